// SPDX-License-Identifier: GPL-3.0-or-later
#include "summary.hpp"

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>
#include <set>
#include <utility>

#include "bench/judged_anew.hpp"
#include "bench/keeper_days.hpp"
#include "bench_options.hpp"
#include "bench_writer.hpp"
#include "call_files.hpp"
#include "earlier_report.hpp"
#include "exit_status.hpp"
#include "manifest/recorded_cell.hpp"
#include "options.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"
#include "results/output_file.hpp"
#include "results/saved_lines.hpp"
#include "terminal.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

/// `windway summary` as it was called.
struct SummaryCall {
  std::vector<std::string> results;
  LimitOptions limits;
  BenchOptions bench;
  bool by_keeper = false;
  ResultOptions result;
};

constexpr auto summary_examples = R"(Examples:
  windway summary bench.jsonl --group-by lot
  windway summary shard-*.jsonl --format junit --output bench.xml
  windway summary bench.jsonl --tolerance 20 --max-spread 50
  windway summary bench.jsonl --keeper HW-0001 --by-keeper
  windway summary bench.jsonl --format csv-statistics --decimal-comma
  zcat 2026-*.jsonl.gz | windway summary - --keeper HW-0001 --format json

If you give limits, windway judges the saved results again, without the sound.
One limit then holds for all notes, and no work at holes is advised. Without
--keeper and --group-by the keeper and the groups are those of the batch. Give
--stage again.

Exit status: as of windway batch; 3 also if a line is not a result.)";

void warn_of(const std::string& warning) { complain("warning: " + warning); }

/// "2 days (2026-03-03, ...)".
std::string days_in_words(const std::set<std::string>& days) {
  return count_in_words(days.size(), "day") + " (" + *days.begin() + (days.size() > 1 ? ", ..." : "") + ")";
}

/// The results as the call wants them judged.
class JudgedByCall {
 public:
  JudgedByCall(const SummaryCall& call, const SavedLines& lines)
      : rules_(tally_rules_of(call.bench)), limits_(limits_of(call.limits)) {
    if (call.by_keeper) offsets_ = offsets_in(lines);
  }

  BenchEntry judged(BenchEntry entry) {
    if (is_keeper(rules_, entry) || !is_of_stage(rules_, entry.subject)) return entry;
    if (offsets_) entry = without_offset(std::move(entry));
    entry = judged_anew(std::move(entry), limits_);
    set_messages(entry);
    return entry;
  }

  void say_what_was_left_out() const {
    if (!days_without_keeper_.empty())
      complain("note: the keeper was not recorded on " + days_in_words(days_without_keeper_) + ": the instruments of " +
               (days_without_keeper_.size() == 1 ? "that day" : "those days") + " are judged without correction");
    if (undated_ > 0)
      complain("note: " + count_in_words(undated_, "take") + " without a date " + (undated_ == 1 ? "is" : "are") +
               " judged without correction");
  }

 private:
  KeeperOffsets offsets_in(const SavedLines& lines) const {
    KeeperDays days;
    std::set<std::string> keepers;
    lines.read(
        [&](const BenchEntry& entry, std::string_view) {
          if (!is_keeper(rules_, entry) || !is_usable(entry) || entry.counting.is_told_twice) return;
          days.add(entry);
          keepers.insert(name_of(entry));
        },
        [](const std::string&) {});
    KeeperOffsets offsets = days.offsets();
    if (keepers.size() > 1)
      refuse("--by-keeper: these results have several keepers (" + list_in_words({keepers.begin(), keepers.end()}) +
             "); say which with --keeper");
    if (offsets.empty() && !keepers.empty())
      refuse("--by-keeper: the keeper " + *keepers.begin() + " needs takes that are dated, of two days at least");
    if (offsets.empty())
      refuse(
          "--by-keeper: these results have no dated take of a keeper, the bench's own flute; name it, as in --keeper "
          "HW-0001");
    return offsets;
  }

  BenchEntry without_offset(BenchEntry entry) {
    if (auto corrected = by_keeper(entry, *offsets_)) return *corrected;
    const std::string day = day_of(entry.recorded_at.value_or(""));
    if (is_usable(entry))
      day.empty() ? static_cast<void>(++undated_) : static_cast<void>(days_without_keeper_.insert(day));
    return entry;
  }

  TallyRules rules_;
  JudgeLimits limits_;
  std::optional<KeeperOffsets> offsets_;
  std::set<std::string> days_without_keeper_;
  std::size_t undated_ = 0;
};

void refuse_contradictions(const SummaryCall& call) {
  const bool is_judged_anew = call.by_keeper || asks_anything(limits_of(call.limits));
  if (is_judged_anew && call.result.format == "jsonl")
    refuse("--format jsonl gives the lines as they were judged; for new verdicts use text, csv, junit or json");
}

int summarise(const SummaryCall& call) {
  check_recordings(call.results, "which results? as in: windway summary bench.jsonl");
  refuse_contradictions(call);
  BenchWriter writer(call.result, call.bench, call.results);
  if (call.by_keeper) writer.say_by_keeper();
  const SavedLines lines(call.results);
  JudgedByCall by_call(call, lines);
  const std::size_t bad = lines.read(
      [&](const BenchEntry& entry, std::string_view line) { writer.add(by_call.judged(entry), line); }, warn_of);
  by_call.say_what_was_left_out();
  if (!writer.has_groups())
    refuse("--group-by " + call.bench.group_by + ": no take in these results gives its " + call.bench.group_by);
  writer.finish();
  return bad > 0 ? exit_recording : exit_status_of(writer.tally());
}

}  // namespace

Action declare_summary(CLI::App& command) {
  const auto call = std::make_shared<SummaryCall>();
  add_recordings_option(command, "RESULTS", call->results, saved_lines_in_words);
  add_limit_options(command, call->limits, "those of the batch");
  add_bench_options(command, call->bench);
  command
      .add_flag(
          "--by-keeper", call->by_keeper,
          "take the keeper's offset of each day out of the head's best\nplace, or out of the notes if the head is at "
          "the end of its\ntravel")
      ->group("The statistics");
  add_bench_result_options(command, call->result,
                           {"text", "html", "svg", "csv", "jsonl", "junit", "json", "csv-statistics"});
  command.footer(summary_examples);
  return [call] { return without_earlier_report(call->result, call->results, [call] { return summarise(*call); }); };
}

}  // namespace windway::cli
