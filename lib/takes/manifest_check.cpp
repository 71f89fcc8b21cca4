// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/manifest_check.hpp"

#include <algorithm>
#include <filesystem>
#include <functional>
#include <map>
#include <set>
#include <system_error>
#include <tuple>
#include <utility>

#include "manifest/true_path.hpp"
#include "units/count_in_words.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;
using PlacesInWords = std::vector<std::string>;

/// As a row of the manifest would name the file: from its folder where it lies there.
std::string as_in_row(const fs::path& file, const Manifest& manifest) {
  const fs::path folder = fs::path(manifest.path).parent_path();
  const fs::path within = file.lexically_normal().lexically_relative((folder / ".").lexically_normal());
  return within.empty() || *within.begin() == ".." ? file.string() : within.string();
}

/// "line 7: a.flac", or the file alone where no line names it.
PlacesInWords places_where(const std::vector<BatchJob>& jobs, const Manifest& manifest,
                           const std::function<bool(const BatchJob&)>& is_so) {
  PlacesInWords places;
  for (const BatchJob& job : jobs) {
    const std::string line = job.manifest_line > 0 ? "line " + std::to_string(job.manifest_line) + ": " : "";
    if (is_so(job)) places.push_back(line + as_in_row(job.path, manifest));
  }
  return places;
}

/// Rows without a number that others have.
PlacesInWords rows_without(const Manifest& manifest, std::optional<double> ManifestRow::*number) {
  PlacesInWords places;
  for (const ManifestRow& row : manifest.rows)
    if (!(row.*number)) places.push_back("line " + std::to_string(row.line) + ": " + row.take);
  return places.size() < manifest.rows.size() ? places : PlacesInWords{};
}

/// "HW-0412 final, retake 2: a.flac, b.flac".
PlacesInWords same_retakes(const std::vector<BatchJob>& jobs, const Manifest& manifest) {
  std::map<std::tuple<std::string, std::string, int>, PlacesInWords> takes_of;
  for (const BatchJob& job : jobs)
    if (job.subject.serial && job.subject.retake)
      takes_of[{*job.subject.serial, job.subject.stage.value_or(""), *job.subject.retake}].push_back(
          as_in_row(job.path, manifest));
  PlacesInWords same;
  for (const auto& [key, takes] : takes_of) {
    const auto& [serial, stage, retake] = key;
    if (takes.size() < 2) continue;
    std::string place = serial + (stage.empty() ? "" : " " + stage) + ", retake " + std::to_string(retake);
    for (const std::string& take : takes) place += (&take == &takes.front() ? ": " : ", ") + take;
    same.push_back(place);
  }
  return same;
}

std::size_t instruments_of(const std::vector<BatchJob>& jobs) {
  std::set<std::string> serials;
  std::size_t alone = 0;
  for (const BatchJob& job : jobs)
    job.subject.serial ? static_cast<void>(serials.insert(*job.subject.serial)) : static_cast<void>(++alone);
  return serials.size() + alone;
}

/// Gathers what is found.
class Findings {
 public:
  /// "There is no row for" + "3 sound files" + "".
  void add(bool is_missing, const std::string& before, const char* thing, const std::string& after,
           PlacesInWords places) {
    if (places.empty()) return;
    const std::string what = before + " " + count_in_words(places.size(), thing) + after;
    all.push_back({what, std::move(places), is_missing});
  }
  std::vector<ManifestFinding> all;
};

/// Takes of which nobody says which instrument they are of.
void add_nameless(Findings& findings, const std::vector<BatchJob>& jobs, const Manifest& manifest,
                  const std::optional<SerialPattern>& pattern) {
  const auto places = [&](const std::function<bool(const BatchJob&)>& is_meant) {
    return places_where(jobs, manifest, [&](const BatchJob& job) {
      return !job.subject.serial && !job.why_not.empty() && is_meant(job);
    });
  };
  if (pattern)
    return findings.add(true, "The pattern '" + pattern->text + "' cannot read", "name", "",
                        places([](const BatchJob&) { return true; }));
  findings.add(true, "There is no row for", "sound file", "",
               places([](const auto& job) { return job.manifest_line == 0; }));
  findings.add(true, "No serial is given in", "row", ", though others give one",
               places([](const auto& job) { return job.manifest_line > 0 && !job.is_lost; }));
}

}  // namespace

std::vector<std::string> sounds_without_row(const Manifest& manifest) {
  std::set<std::string> named;
  std::map<std::string, fs::path> folders;  // by true path, so that each is looked through once
  for (const ManifestRow& row : manifest.rows) {
    const fs::path take = path_of_take(manifest, row);
    named.insert(true_path(take.string()));
    const fs::path folder = take.parent_path().empty() ? fs::path(".") : take.parent_path();
    folders.emplace(true_path(folder.string()), folder);
  }
  std::set<std::string> found;
  for (const auto& [place, folder] : folders) {
    std::error_code failure;
    fs::directory_iterator entry(folder, failure);
    for (const fs::directory_iterator end; !failure && entry != end; entry.increment(failure)) {
      const std::string path = entry->path().string();
      const bool is_hidden = entry->path().filename().string().starts_with('.');
      if (!is_hidden && is_named_as_take(path) && !named.contains(true_path(path)))
        found.insert(as_in_row(entry->path(), manifest));
    }
  }
  return {found.begin(), found.end()};
}

ManifestCheck check_of(const Manifest& manifest, const std::optional<SerialPattern>& pattern, const BatchList& list,
                       bool has_files) {
  Findings findings;
  findings.add(true, "There is no file for", "row", "", places_where(list.jobs, manifest, &BatchJob::is_lost));
  if (!has_files) findings.add(true, "There is no row for", "sound file", "", sounds_without_row(manifest));
  add_nameless(findings, list.jobs, manifest, pattern);
  findings.add(false, "The paths given leave out", "take", " of the manifest", list.not_given);
  const std::string others = ", though others give it";
  findings.add(false, "No bore_temp_c is given in", "row", others, rows_without(manifest, &ManifestRow::bore_temp_c));
  findings.add(false, "No head_out_mm is given in", "row", others, rows_without(manifest, &ManifestRow::head_out_mm));
  findings.add(false, "Takes of one serial and stage share", "retake number", "", same_retakes(list.jobs, manifest));
  findings.add(false, "The results copy", "column", " that windway does not use", manifest.other_columns);
  return {list.jobs.size(), instruments_of(list.jobs), std::move(findings.all)};
}

}  // namespace windway
