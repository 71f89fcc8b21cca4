// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/jobs.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

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

}  // namespace windway
