// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/jobs.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <system_error>
#include <utility>

#include "manifest/true_path.hpp"

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
    for (const std::string& column : manifest_->other_columns) subject.other.emplace_back(column, "");
    return subject;
  }

  /// Null where the manifest does not name the file.
  const ManifestRow* row_of(const std::string& path) const {
    const auto found = rows_.find(true_path(path));
    return found == rows_.end() ? nullptr : found->second;
  }

  /// Why the manifest gives no serial for the take; empty: it does, or it gives no serial for any take.
  std::string why_nameless(const ManifestRow* row) const {
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

/// Settles the subject of a take without a serial in the manifest, and why it stays unknown.
void set_subject(BatchJob& job, const std::string& why_nameless, const std::optional<SerialPattern>& pattern) {
  job.why_not = why_nameless;
  if (!pattern) return;
  const NameReading reading = subject_of(*pattern, job.path);
  if (reading.subject) {
    fill_in(job.subject, *reading.subject);
    job.why_not.clear();
  } else {
    job.why_not += (job.why_not.empty() ? "" : ", and ") + reading.why_not;
  }
}

std::filesystem::file_type type_of(const std::string& path) {
  std::error_code failure;
  return std::filesystem::status(path, failure).type();
}

/// True where there is surely a file, for a folder is no take.
bool is_there(const std::string& path) {
  const auto type = type_of(path);
  return type != std::filesystem::file_type::not_found && type != std::filesystem::file_type::none &&
         type != std::filesystem::file_type::directory;
}

bool lies_in(const std::set<std::string>& folders, const std::string& path) {
  const std::filesystem::path own = true_path(std::filesystem::path(path).parent_path().string());
  for (std::filesystem::path folder = own;; folder = folder.parent_path()) {
    if (folders.contains(folder.string())) return true;
    if (folder == folder.parent_path()) return false;
  }
}

/// Makes jobs of the takes of one call.
class JobMaker {
 public:
  JobMaker(const std::optional<Manifest>& manifest, const std::optional<SerialPattern>& pattern)
      : named_(manifest), manifest_(manifest), pattern_(pattern) {}

  const ManifestRow* row_of(const std::string& path) const { return named_.row_of(path); }

  BatchJob of_file(const std::string& path) const {
    BatchJob job;
    job.path = path;
    job.subject = named_.unnamed();
    set_subject(job, named_.why_nameless(nullptr), pattern_);
    return job;
  }

  BatchJob of_row(const std::string& path, const ManifestRow& row) const {
    BatchJob job;
    job.path = path;
    job.subject = row.subject;
    job.bore_temp_c = row.bore_temp_c;
    job.head_out_mm = row.head_out_mm;
    job.manifest_line = row.line;
    job.is_lost = type_of(path) == std::filesystem::file_type::not_found;
    if (!job.subject.serial) set_subject(job, named_.why_nameless(&row), pattern_);
    if (job.is_lost)
      job.why_not = "the manifest " + manifest_->path + ", line " + std::to_string(row.line) +
                    ", names it, but there is no such file";
    return job;
  }

 private:
  NamedTakes named_;
  const std::optional<Manifest>& manifest_;
  const std::optional<SerialPattern>& pattern_;
};

}  // namespace

BatchList batch_jobs(const std::optional<TakeFiles>& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern) {
  const JobMaker maker(manifest, pattern);
  std::map<const ManifestRow*, std::string> given;
  std::vector<std::string> others;
  static const TakeFiles no_files;
  for (const std::string& take : (files ? *files : no_files).takes) {
    const ManifestRow* row = maker.row_of(take);
    row == nullptr ? others.push_back(take) : static_cast<void>(given.emplace(row, take));
  }
  BatchList list;
  static const std::vector<ManifestRow> no_rows;
  for (const ManifestRow& row : manifest ? manifest->rows : no_rows) {
    const auto as_given = given.find(&row);
    const std::string path = as_given == given.end() ? path_of_take(*manifest, row) : as_given->second;
    const bool is_asked = !files || as_given != given.end() || lies_in(files->folders, path) || !is_there(path);
    is_asked ? list.jobs.push_back(maker.of_row(path, row)) : list.not_given.push_back(row.take);
  }
  for (const std::string& take : others) list.jobs.push_back(maker.of_file(take));
  return list;
}

}  // namespace windway
