// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet_choice.hpp"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "bench/judged_anew.hpp"
#include "manifest/recorded_cell.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// Why the instrument does not pass, as far as one sentence says it.
std::string first_reason(const BenchEntry& entry) {
  if (!entry.error.empty()) return entry.error;
  for (const EntryJudged& each : entry.judged)
    if (each.judged.result == entry.result && !each.message.empty()) return each.message;
  return "";
}

ChosenTake chosen(const BenchEntry& entry, std::size_t place) {
  return {place,
          entry.recorded_at.value_or(""),
          entry.subject.retake,
          entry.result,
          entry.counting.keeper,
          entry.counting.is_lost,
          first_reason(entry)};
}

std::size_t rank(const std::optional<VerdictResult>& result) {
  constexpr std::array worst_first{VerdictResult::fail, VerdictResult::not_measured, VerdictResult::too_close};
  if (!result) return worst_first.size();
  return static_cast<std::size_t>(std::ranges::find(worst_first, *result) - worst_first.begin());
}

/// Of two takes of one stage, `other` after `one` in the results: as the bench finds the last one.
bool is_before(const ChosenTake& one, const ChosenTake& other) {
  if (one.is_lost != other.is_lost) return one.is_lost;
  if (one.retake && other.retake && one.retake != other.retake) return one.retake < other.retake;
  return !is_recorded_before(other.recorded_at, one.recorded_at);
}

/// The last of two takes of one stage that both count, with the worse verdict.
ChosenTake last_of(const ChosenTake& one, const ChosenTake& next) {
  const bool is_next = is_before(one, next);
  ChosenTake last = is_next ? next : one;
  const ChosenTake& other = is_next ? one : next;
  if (rank(other.result) >= rank(last.result)) return last;
  last.result = other.result;
  const std::string elsewhere = "in another take of it";
  const bool says_so = other.why_not.starts_with(elsewhere);
  last.why_not = says_so ? other.why_not : elsewhere + (other.why_not.empty() ? "" : ": " + other.why_not);
  return last;
}

/// The last take that counts of each stage of one instrument.
using TakesByStage = std::map<std::optional<std::string>, ChosenTake>;

/// That of the last stage; null where the dates do not tell which that is.
const ChosenTake* last_stage(const TakesByStage& stages) {
  const auto is_after_all_others = [&](const auto& one) {
    return std::ranges::all_of(stages, [&](const auto& other) {
      return &other == &one || is_recorded_before(other.second.recorded_at, one.second.recorded_at);
    });
  };
  const auto last = std::ranges::find_if(stages, is_after_all_others);
  return last == stages.end() ? nullptr : &last->second;
}

/// "it has takes of stage final, and takes without a stage; their dates do not say which is the last: give --stage"
std::string undecided_in_words(const TakesByStage& stages) {
  std::vector<std::string> names;
  for (const auto& [stage, take] : stages)
    if (stage) names.push_back(*stage);
  return "it has takes of " + std::string(names.size() == 1 ? "stage " : "the stages ") + list_in_words(names) +
         (stages.contains(std::nullopt) ? ", and takes without a stage" : "") +
         "; their dates do not say which is the last: give --stage";
}

}  // namespace

BenchEntry judged_as_called(BenchEntry entry, const JudgeLimits& limits) {
  if (entry.counting.keeper) return entry;
  entry = judged_anew(std::move(entry), limits);
  set_messages(entry);
  return entry;
}

SheetChoice choose_takes(const SavedLines& lines, const std::optional<std::string>& serial,
                         const std::optional<std::string>& stage, const JudgeLimits& limits) {
  SheetChoice choice;
  choice.limits = limits;
  std::map<std::string, TakesByStage> instruments;
  std::size_t place = 0;
  const auto see = [&](const BenchEntry& entry, std::string_view) {
    const std::size_t own_place = place++;
    const Subject& subject = entry.subject;
    const bool counts = entry.counting.counts && !entry.counting.is_told_twice;
    if (!counts || (stage && subject.stage != stage) || (serial && subject.serial != serial)) return;
    if (!subject.serial) return static_cast<void>(++choice.without_serial);
    const ChosenTake take = chosen(judged_as_called(entry, limits), own_place);
    const auto [known, is_first] = instruments[*subject.serial].emplace(subject.stage, take);
    if (!is_first) known->second = last_of(known->second, take);
  };
  choice.bad_lines = lines.read(see, [](const std::string& warning) { complain("warning: " + warning); });
  for (const auto& [of, stages] : instruments) {
    if (const ChosenTake* last = last_stage(stages)) {
      choice.takes.emplace(of, *last);
    } else {
      choice.undecided.emplace(of, undecided_in_words(stages));
    }
  }
  return choice;
}

void read_chosen(const SavedLines& lines, const SheetChoice& choice,
                 const std::function<void(const BenchEntry&, std::string_view)>& see) {
  std::size_t place = 0;
  const auto see_chosen = [&](const BenchEntry& entry, std::string_view line) {
    const std::size_t own_place = place++;
    const auto take = entry.subject.serial ? choice.takes.find(*entry.subject.serial) : choice.takes.end();
    if (take == choice.takes.end() || take->second.place != own_place) return;
    BenchEntry judged = judged_as_called(entry, choice.limits);
    if (judged.result != take->second.result)  // the reasons are another take's
      judged.judged = {{{.result = take->second.result.value_or(VerdictResult::not_measured)}, take->second.why_not}};
    judged.result = take->second.result;
    see(judged, line);
  };
  lines.read(see_chosen, [](const std::string&) {});
}

}  // namespace windway::cli
