// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/kept_results.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "error.hpp"
#include "input/digest.hpp"
#include "report/bench/batch_line.hpp"
#include "report/bench/read_entry.hpp"
#include "takes/resume.hpp"

namespace windway {
namespace {

/// A line of the file as far as resuming needs it.
struct KeptLine {
  LinePlace place;
  ResultKey key;
  Subject subject;
  Counting counting;
};

std::vector<KeptLine> lines_of(const ResultsFile& file, const std::string& path) {
  std::vector<KeptLine> lines;
  EntryReader reader;
  file.read_through([&](std::string_view line, LinePlace place) {
    const auto entry = reader.read(line);
    if (!entry) {
      throw Error(ErrorKind::usage, path + ", line " + std::to_string(lines.size() + 1) +
                                        ": is no result of windway batch; name another file for --results");
    }
    lines.push_back({place,
                     {entry->path, entry->sha256, entry->settings_key},
                     entry->subject,
                     {entry->counts, entry->takes_of_subject, entry->keeper, entry->group_by}});
  });
  return lines;
}

/// Is no file any more where some earlier result says?
bool some_are_gone(const std::vector<std::string>& paths) {
  std::error_code failure;
  return std::ranges::any_of(paths, [&](const std::string& path) { return !std::filesystem::exists(path, failure); });
}

/// The keys of the jobs; a file's content is read only where an earlier result may be its own: one of that path, or one
/// whose file is gone.
std::vector<ResultKey> keys_of(const Batch& batch, const std::vector<KeptLine>& lines) {
  std::vector<std::string> kept_paths;
  for (const KeptLine& line : lines) kept_paths.push_back(line.key.path);
  std::ranges::sort(kept_paths);
  std::vector<std::string> paths;
  for (const BatchJob& job : batch.jobs) paths.push_back(path_as_written(job.path));
  const bool may_have_moved = some_are_gone(kept_paths);
  std::vector<ResultKey> keys;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const BatchJob& job = batch.jobs[i];
    const bool is_asked = may_have_moved || std::ranges::binary_search(kept_paths, paths[i]);
    keys.push_back({paths[i], is_asked ? sha256_of_path(job.path) : "", key_of(job, batch)});
  }
  return keys;
}

void set_countings(Batch& batch, const std::vector<Counting>& countings) {
  for (std::size_t i = 0; i < batch.jobs.size(); ++i) {
    const Counting& counting = countings[countings.size() - batch.jobs.size() + i];
    batch.jobs[i].counts = counting.counts;
    batch.jobs[i].takes_of_subject = counting.takes_of_subject;
  }
}

/// Lines that stay, with how each counts now.
struct StayingLines {
  std::vector<KeptLine> lines;
  std::vector<Counting> now;
  std::vector<std::optional<std::size_t>> job;  ///< whose result the line is
};

/// The job's own counting, and how its batch looks at it.
Counting with_view(Counting counting, const BatchJob& job, const Batch& batch) {
  counting.keeper = is_keeper(batch.rules, job.subject);
  counting.group_by = batch.rules.group_by;
  return counting;
}

/// A line of another batch keeps its view.
Counting with_view(Counting counting, const KeptLine& line) {
  counting.keeper = line.counting.keeper;
  counting.group_by = line.counting.group_by;
  return counting;
}

/// Settles how lines and jobs count among each other; that of the jobs is set in `batch`.
StayingLines staying_lines(const std::vector<KeptLine>& lines, const ResumePlan& plan, Batch& batch, VerdictFrom from) {
  StayingLines staying;
  std::vector<std::optional<std::size_t>> job_of(lines.size());
  for (std::size_t job = 0; job < plan.done_by.size(); ++job)
    if (plan.done_by[job]) job_of[*plan.done_by[job]] = job;
  std::vector<Subject> subjects;  // lines of other takes, then the jobs
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!plan.stays[i]) continue;
    staying.lines.push_back(lines[i]);
    staying.job.push_back(job_of[i]);
    if (!job_of[i]) subjects.push_back(lines[i].subject);
  }
  const std::size_t others = subjects.size();
  for (const BatchJob& job : batch.jobs) subjects.push_back(job.subject);
  const std::vector<Counting> all = countings(subjects, from);
  set_countings(batch, all);
  std::size_t other = 0;
  for (std::size_t line = 0; line < staying.lines.size(); ++line) {
    const auto& job = staying.job[line];
    staying.now.push_back(job ? with_view(all[others + *job], batch.jobs[*job], batch)
                              : with_view(all[other++], staying.lines[line]));
  }
  return staying;
}

/// Writes the lines that stay, as they count now; gives where each came to lie.
std::vector<LinePlace> rewritten(ResultsFile& file, const StayingLines& staying) {
  std::vector<LinePlace> places;
  std::uint64_t offset = 0;
  const auto text_of = [&](std::size_t line) {
    std::string text = with_counting(file.line_at(staying.lines[line].place), staying.now[line]);
    places.push_back({offset, text.size()});
    offset += text.size();
    return text;
  };
  file.replace_with(staying.lines.size(), text_of);
  return places;
}

}  // namespace

KeptResults kept_results(const std::string& path, bool resumes, Batch& batch, VerdictFrom verdict_from) {
  KeptResults kept;
  kept.done.resize(batch.jobs.size());
  std::vector<KeptLine> lines;
  if (!path.empty()) {
    kept.file = std::make_unique<ResultsFile>(path, resumes);
    lines = lines_of(*kept.file, path);
  }
  std::vector<ResultKey> keys_kept;
  for (const KeptLine& line : lines) keys_kept.push_back(line.key);
  const ResumePlan plan = plan_resume(keys_kept, keys_of(batch, lines));
  const StayingLines staying = staying_lines(lines, plan, batch, verdict_from);
  std::vector<LinePlace> places;
  for (const KeptLine& line : staying.lines) places.push_back(line.place);
  const bool is_as_it_was =
      staying.lines.size() == lines.size() && std::ranges::equal(staying.lines, staying.now, {}, &KeptLine::counting);
  if (!is_as_it_was) places = rewritten(*kept.file, staying);
  for (std::size_t line = 0; line < places.size(); ++line)
    if (staying.job[line]) kept.done[*staying.job[line]] = places[line];
  return kept;
}

}  // namespace windway
