// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/jobs.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "takes/recorded_cell.hpp"
#include "takes/true_path.hpp"

namespace windway {
namespace {

/// The rows of a manifest by their files.
class NamedTakes {
 public:
  explicit NamedTakes(const std::optional<Manifest>& manifest) : manifest_(manifest) {
    if (!manifest) return;
    for (const ManifestRow& row : manifest->rows) rows_.emplace(true_path(path_of_take(*manifest, row)), &row);
    gives_serials_ = std::ranges::any_of(manifest->rows, [](const ManifestRow& row) { return !!row.subject.serial; });
  }

  /// Of a take that the manifest does not name: all of the manifest's own columns, empty.
  Subject unnamed() const {
    Subject subject;
    if (!manifest_) return subject;
    for (const std::string& column : manifest_->own_columns) subject.other.emplace_back(column, "");
    return subject;
  }

  /// Null where the manifest does not name the file.
  const ManifestRow* row_of(const std::string& path) const {
    const auto found = rows_.find(true_path(path));
    return found == rows_.end() ? nullptr : found->second;
  }

  /// Why the manifest gives no serial for the take; empty: it does, or it gives no serial for any take.
  std::string why_not(const ManifestRow* row) const {
    if (!manifest_) return "";
    if (row == nullptr) return "the manifest " + manifest_->path + " does not name it";
    if (row->subject.serial || !gives_serials_) return "";
    return "the manifest " + manifest_->path + ", line " + std::to_string(row->line) + ", gives no serial";
  }

 private:
  const std::optional<Manifest>& manifest_;
  std::map<std::string, const ManifestRow*> rows_;
  bool gives_serials_ = false;
};

template <typename Value>
void fill(std::optional<Value>& place, const std::optional<Value>& value) {
  if (!place) place = value;
}

/// Fills fields that the manifest leaves empty.
void fill_in(Subject& subject, const Subject& by_name) {
  for (const SubjectText& each : subject_texts) fill(subject.*each.text, by_name.*each.text);
  fill(subject.retake, by_name.retake);
}

BatchJob job_of(const std::string& path, const ManifestRow* row, const NamedTakes& named,
                const std::optional<SerialPattern>& pattern) {
  BatchJob job;
  job.path = path;
  job.subject = named.unnamed();
  if (row != nullptr) {
    job.subject = row->subject;
    job.bore_temp_c = row->bore_temp_c;
    job.head_out_mm = row->head_out_mm;
  }
  if (job.subject.serial) return job;
  job.not_named = named.why_not(row);
  if (!pattern) return job;
  const NameReading reading = subject_of(*pattern, path);
  if (reading.subject) {
    fill_in(job.subject, *reading.subject);
    job.not_named.clear();
  } else {
    job.not_named += (job.not_named.empty() ? "" : ", and ") + reading.why_not;
  }
  return job;
}

using Takes = std::vector<std::size_t>;

/// The last of the takes of one instrument at one stage.
std::size_t last_of(Takes takes, const std::vector<Subject>& subjects) {
  std::optional<int> highest;
  for (const std::size_t take : takes) highest = std::max(highest, subjects[take].retake);
  std::erase_if(takes, [&](std::size_t take) { return subjects[take].retake && subjects[take].retake < highest; });
  // Comparing each take with the latest one is enough.
  std::string latest;
  for (const std::size_t take : takes) latest = std::max(latest, without_zone(subjects[take].recorded_at.value_or("")));
  std::erase_if(takes, [&](std::size_t take) {
    const auto& recorded_at = subjects[take].recorded_at;
    return recorded_at && is_recorded_before(*recorded_at, latest);
  });
  return takes.back();
}

}  // namespace

BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern) {
  const NamedTakes named(manifest);
  BatchList list;
  if (files.takes.empty() && files.passed_over.empty()) {
    if (!manifest) return list;
    for (const ManifestRow& row : manifest->rows)
      list.jobs.push_back(job_of(path_of_take(*manifest, row), &row, named, pattern));
    return list;
  }
  std::set<const ManifestRow*> given;
  for (const std::string& take : files.takes) {
    const ManifestRow* row = named.row_of(take);
    given.insert(row);
    list.jobs.push_back(job_of(take, row, named, pattern));
  }
  if (!manifest) return list;
  for (const ManifestRow& row : manifest->rows)
    if (!given.contains(&row)) list.not_given.push_back(row.take);
  return list;
}

std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from) {
  using Text = std::optional<std::string>;
  std::map<std::pair<Text, Text>, Takes> of_stage;
  std::map<std::tuple<Text, Text, Text>, Takes> of_head;
  for (std::size_t i = 0; i < subjects.size(); ++i) {
    const Subject& subject = subjects[i];
    if (!subject.serial) continue;
    of_stage[{subject.serial, subject.stage}].push_back(i);
    of_head[{subject.serial, subject.stage, subject.head}].push_back(i);
  }
  std::vector<Counting> all(subjects.size());
  for (const auto& [setting, takes] : of_head)
    for (const std::size_t take : takes) all[take].takes_of_subject = static_cast<int>(takes.size());
  if (from == VerdictFrom::all) return all;
  for (const auto& [stage, takes] : of_stage) {
    for (const std::size_t take : takes) all[take].counts = false;
    all[last_of(takes, subjects)].counts = true;
  }
  return all;
}

}  // namespace windway
