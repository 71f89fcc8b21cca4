// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet_choice.hpp"

#include <algorithm>
#include <array>

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
          entry.subject.stage,
          entry.result,
          entry.counting.keeper,
          entry.counting.from == VerdictFrom::all,
          first_reason(entry)};
}

std::size_t rank(const std::optional<VerdictResult>& result) {
  constexpr std::array worst_first{VerdictResult::fail, VerdictResult::not_measured, VerdictResult::too_close};
  if (!result) return worst_first.size();
  return static_cast<std::size_t>(std::ranges::find(worst_first, *result) - worst_first.begin());
}

/// The later of two takes that count; where all of a stage count, with the worse verdict.
void add(ChosenTake& earlier, ChosenTake take) {
  const bool is_later = take.recorded_at >= earlier.recorded_at;
  ChosenTake& other = is_later ? earlier : take;
  ChosenTake last = is_later ? take : earlier;
  if (last.all_count && last.stage == other.stage && rank(other.result) < rank(last.result)) {
    last.result = other.result;
    last.why_not = other.why_not;
  }
  earlier = std::move(last);
}

}  // namespace

SheetChoice choose_takes(const SavedLines& lines, const std::optional<std::string>& serial,
                         const std::optional<std::string>& stage) {
  SheetChoice choice;
  std::size_t place = 0;
  const auto see = [&](const BenchEntry& entry, std::string_view) {
    const std::size_t own_place = place++;
    const Subject& subject = entry.subject;
    const bool counts = entry.counting.counts && !entry.counting.is_told_twice;
    if (!counts || (stage && subject.stage != stage) || (serial && subject.serial != serial)) return;
    if (!subject.serial) return static_cast<void>(++choice.without_serial);
    const ChosenTake take = chosen(entry, own_place);
    const auto [known, is_first] = choice.takes.emplace(*subject.serial, take);
    if (!is_first) add(known->second, take);
  };
  choice.bad_lines = lines.read(see, [](const std::string& warning) { complain("warning: " + warning); });
  return choice;
}

void read_chosen(const SavedLines& lines, const SheetChoice& choice,
                 const std::function<void(const BenchEntry&, std::string_view)>& see) {
  std::size_t place = 0;
  const auto see_chosen = [&](const BenchEntry& entry, std::string_view line) {
    const std::size_t own_place = place++;
    const auto take = entry.subject.serial ? choice.takes.find(*entry.subject.serial) : choice.takes.end();
    if (take == choice.takes.end() || take->second.place != own_place) return;
    BenchEntry judged = entry;
    if (judged.result != take->second.result) judged.judged.clear();  // the reasons are another take's
    judged.result = take->second.result;
    see(judged, line);
  };
  lines.read(see_chosen, [](const std::string&) {});
}

}  // namespace windway::cli
