// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/kept_results.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "error.hpp"
#include "input/digest.hpp"
#include "report/lines/batch_line.hpp"
#include "report/lines/read_entry.hpp"
#include "results/joined_results.hpp"
#include "takes/resume.hpp"

namespace windway {
namespace {

/// A line of the file as far as resuming needs it.
struct KeptLine {
  LinePlace place;
  ResultKey key;
  TakeOrder order;
  Counting counting;
};

KeptLine kept_line(const BenchEntry& entry, LinePlace place) {
  KeptLine line{place,
                {entry.path, entry.sha256, entry.settings_key},
                take_order(entry.subject, entry.counting.from),
                entry.counting};
  line.order.is_lost = entry.counting.is_lost;
  return line;
}

/// The lines of a results file.
struct KeptLines {
  std::vector<KeptLine> lines;
  bool is_whole = true;  ///< nothing of the file is to be left out
};

/// What was cut off in the middle of a line is left out: its take is measured again.
KeptLines lines_of(const ResultsFile& file, const std::string& path) {
  KeptLines kept;
  std::size_t number = 0;
  EntryReader reader;
  file.read_through([&](std::string_view line, LinePlace place) {
    ++number;
    const auto results = joined_results(line);
    kept.is_whole = kept.is_whole && results.size() == 1;
    for (const std::string_view result : results) {
      const bool is_last = result.data() == results.back().data();
      const auto entry = reader.read(result);
      if (entry)
        kept.lines.push_back(kept_line(
            *entry, {place.offset + static_cast<std::uint64_t>(result.data() - line.data()), result.size() + is_last}));
      if (!entry && is_last)
        throw Error(ErrorKind::usage, path + ", line " + std::to_string(number) +
                                          ": is not a result of windway batch; name another file for --results");
    }
  });
  return kept;
}

/// Is no file any more where some earlier result says that it was read?
bool some_are_gone(const std::vector<KeptLine>& lines) {
  std::error_code failure;
  return std::ranges::any_of(lines, [&](const KeptLine& line) {
    return !line.key.sha256.empty() && !std::filesystem::exists(line.key.path, failure);
  });
}

/// The keys of the jobs; a file's content is read only where an earlier result may be its own: one of that path, or one
/// whose file is gone.
std::vector<ResultKey> keys_of(const Batch& batch, const std::vector<KeptLine>& lines) {
  std::vector<std::string> kept_paths;
  for (const KeptLine& line : lines) kept_paths.push_back(line.key.path);
  std::ranges::sort(kept_paths);
  std::vector<std::string> paths;
  for (const BatchJob& job : batch.jobs) paths.push_back(path_as_written(job.path));
  const bool may_have_moved = some_are_gone(lines);
  std::vector<ResultKey> keys;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const BatchJob& job = batch.jobs[i];
    const bool is_asked = may_have_moved || std::ranges::binary_search(kept_paths, paths[i]);
    keys.push_back({paths[i], is_asked ? sha256_of_path(job.path) : "", key_of(job, batch)});
  }
  return keys;
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
StayingLines staying_lines(const std::vector<KeptLine>& lines, const ResumePlan& plan, Batch& batch) {
  StayingLines staying;
  std::vector<std::optional<std::size_t>> job_of(lines.size());
  for (std::size_t job = 0; job < plan.done_by.size(); ++job)
    if (plan.done_by[job]) job_of[*plan.done_by[job]] = job;
  std::vector<TakeOrder> orders;  // lines of other takes, then the jobs
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!plan.stays[i]) continue;
    staying.lines.push_back(lines[i]);
    staying.job.push_back(job_of[i]);
    if (!job_of[i]) orders.push_back(lines[i].order);
  }
  const std::size_t others = orders.size();
  for (const BatchJob& job : batch.jobs) {
    orders.push_back(take_order(job.subject, batch.verdict_from));
    orders.back().is_lost = job.is_lost;
  }
  const std::vector<Counting> all = countings(orders);
  for (std::size_t i = 0; i < batch.jobs.size(); ++i)
    batch.jobs[i].counting = with_view(all[others + i], batch.jobs[i], batch);
  std::size_t other = 0;
  for (std::size_t line = 0; line < staying.lines.size(); ++line) {
    const auto& job = staying.job[line];
    staying.now.push_back(job ? batch.jobs[*job].counting : with_view(all[other++], staying.lines[line]));
  }
  return staying;
}

/// Writes the lines that stay, as they count now; gives where each came to lie.
std::vector<LinePlace> rewritten(ResultsFile& file, const StayingLines& staying) {
  std::vector<LinePlace> places;
  std::uint64_t offset = 0;
  const auto text_of = [&](std::size_t line) {
    std::string text = with_counting(file.line_at(staying.lines[line].place), staying.now[line]);
    if (!text.ends_with('\n')) text += '\n';  // it was joined with the next
    places.push_back({offset, text.size()});
    offset += text.size();
    return text;
  };
  file.replace_with(staying.lines.size(), text_of);
  return places;
}

}  // namespace

KeptResults kept_results(const std::string& path, bool resumes, Batch& batch) {
  KeptResults kept;
  kept.done.resize(batch.jobs.size());
  KeptLines earlier;
  if (!path.empty()) {
    kept.file = std::make_unique<ResultsFile>(path, resumes);
    earlier = lines_of(*kept.file, path);
  }
  const std::vector<KeptLine>& lines = earlier.lines;
  std::vector<ResultKey> keys_kept;
  for (const KeptLine& line : lines) keys_kept.push_back(line.key);
  const ResumePlan plan = plan_resume(keys_kept, keys_of(batch, lines));
  for (const std::size_t line : plan.gone) kept.gone.push_back(lines[line].key.path);
  const StayingLines staying = staying_lines(lines, plan, batch);
  std::vector<LinePlace> places;
  for (const KeptLine& line : staying.lines) places.push_back(line.place);
  const bool is_as_it_was = earlier.is_whole && staying.lines.size() == lines.size() &&
                            std::ranges::equal(staying.lines, staying.now, {}, &KeptLine::counting);
  if (!is_as_it_was) places = rewritten(*kept.file, staying);
  for (std::size_t line = 0; line < places.size(); ++line) {
    if (staying.job[line])
      kept.done[*staying.job[line]] = places[line];
    else
      kept.of_others.push_back(places[line]);
  }
  return kept;
}

void put_in_order(KeptResults& kept) {
  std::vector<LinePlace> places = kept.of_others;
  for (const auto& place : kept.done)
    if (place) places.push_back(*place);
  if (std::ranges::is_sorted(places, {}, &LinePlace::offset)) return;
  kept.file->replace_with(places.size(), [&](std::size_t line) { return kept.file->line_at(places[line]); });
}

}  // namespace windway
