// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/jobs.hpp"

#include <filesystem>
#include <map>
#include <set>
#include <system_error>
#include <tuple>

namespace windway {
namespace {

namespace fs = std::filesystem;

std::string identity_of(const fs::path& path) {
  std::error_code failure;
  const fs::path same = fs::weakly_canonical(path, failure);
  return failure ? path.string() : same.string();
}

fs::path path_of(const ManifestRow& row, const Manifest& manifest) {
  return fs::path(manifest.path).parent_path() / row.take;  // an absolute take stays what it is
}

BatchJob job_of(const std::string& path, const ManifestRow& row) {
  return {.path = path,
          .subject = row.subject,
          .bore_temp_c = row.bore_temp_c,
          .head_out_mm = row.head_out_mm,
          .not_named = {}};
}

BatchJob named_by(const std::optional<SerialPattern>& pattern, bool has_manifest, const std::string& path) {
  BatchJob job;
  job.path = path;
  const std::string unlisted = has_manifest ? "the manifest does not name it" : "";
  if (!pattern) {
    job.not_named = unlisted;
    return job;
  }
  const NameReading reading = subject_of(*pattern, path);
  if (reading.subject) job.subject = *reading.subject;
  if (!reading.subject) job.not_named = unlisted.empty() ? reading.why_not : unlisted + ", and " + reading.why_not;
  return job;
}

}  // namespace

BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern) {
  BatchList list;
  std::map<std::string, const ManifestRow*> rows;
  if (manifest) {
    for (const ManifestRow& row : manifest->rows) {
      const fs::path path = path_of(row, *manifest);
      rows.emplace(identity_of(path), &row);
      if (files.takes.empty()) list.jobs.push_back(job_of(path.string(), row));
    }
    if (files.takes.empty()) return list;
  }
  std::set<std::string> given;
  for (const std::string& take : files.takes) {
    const auto row = rows.find(identity_of(take));
    const bool is_listed = row != rows.end();
    list.jobs.push_back(is_listed ? job_of(take, *row->second) : named_by(pattern, manifest.has_value(), take));
    if (is_listed) given.insert(row->first);
  }
  if (manifest)
    for (const ManifestRow& row : manifest->rows)
      if (!given.contains(identity_of(path_of(row, *manifest)))) list.not_given.push_back(row.take);
  return list;
}

std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from) {
  using Lateness = std::tuple<int, std::string>;  // a later place in the list breaks ties
  std::map<std::tuple<std::string, std::string>, std::size_t> last_of;
  std::map<std::tuple<std::string, std::string, std::string>, int> takes_of;
  const auto lateness = [&](std::size_t i) {
    return Lateness{subjects[i].retake.value_or(-1), subjects[i].recorded_at.value_or("")};
  };
  const auto instrument = [&](std::size_t i) {
    return std::tuple{*subjects[i].serial, subjects[i].stage.value_or("")};
  };
  const auto setting = [&](std::size_t i) {
    return std::tuple_cat(instrument(i), std::tuple{subjects[i].head.value_or("")});
  };
  for (std::size_t i = 0; i < subjects.size(); ++i) {
    if (!subjects[i].serial) continue;
    ++takes_of[setting(i)];
    const auto [last, is_new] = last_of.emplace(instrument(i), i);
    if (!is_new && lateness(i) >= lateness(last->second)) last->second = i;
  }
  std::vector<Counting> all(subjects.size());
  for (std::size_t i = 0; i < subjects.size(); ++i) {
    if (!subjects[i].serial) continue;
    all[i] = {from == VerdictFrom::all || last_of.at(instrument(i)) == i, takes_of.at(setting(i))};
  }
  return all;
}

}  // namespace windway
