// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/bench/bench_csv.hpp"
#include "report/bench/history_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

std::string figure(const std::optional<double>& value, int places) { return value ? fixed(*value, places) : ""; }

std::string verdict_cell(const BenchEntry& take) {
  if (!take.error.empty()) return "not measured";
  const std::string verdict = take.result ? verdict_in_words(*take.result) : "measured";
  return take.counting.counts ? verdict : verdict + "*";
}

std::vector<std::string> row_of(const BenchEntry& take) {
  return {take.subject.stage.value_or(""), take.recorded_at.value_or(""), verdict_cell(take),
          figure(take.home_a4_hz, 1),      figure(take.head_rests_mm, 1), figure(take.evenness_cents, 1)};
}

/// The takes, each with its file where that fits the screen; else the files below.
Prose takes_table(const History& history, std::size_t columns_shown) {
  std::vector<Column> columns{{"stage"},         {"recorded", false, 1}, {"verdict"},
                              {"home A4", true}, {"head out", true},     {"evenness", true, 2}};
  std::vector<std::vector<std::string>> rows;
  Prose files;
  for (const BenchEntry& take : history.takes) {
    rows.push_back(row_of(take));
    files += words("  " + take.subject.stage.value_or("") + " " + take.recorded_at.value_or("") + ": " + take.path, 4);
  }
  auto wide_rows = rows;
  for (std::size_t i = 0; i < rows.size(); ++i) wide_rows[i].push_back(history.takes[i].path);
  auto wide_columns = columns;
  for (Column& column : wide_columns) column.left_out = 0;
  wide_columns.push_back({"take"});
  const Prose wide(Grid{wide_columns, wide_rows});
  return fits(text_of(wide, columns_shown), columns_shown) ? wide : Prose(Grid{columns, rows}) + files;
}

bool any_replaced(const History& history) {
  return std::ranges::any_of(history.takes,
                             [](const auto& take) { return take.error.empty() && !take.counting.counts; });
}

Prose legend(const History& history) {
  return words(
             "  home A4 in Hz, with the head where it was; head out: its best place, mm; evenness: RMS of the notes' "
             "deviations there, cents",
             2) +
         (any_replaced(history) ? words("  *: a later take of this stage counts in its place", 2) : Prose());
}

std::string stage_name(const BenchEntry& take) { return take.subject.stage.value_or(take.path); }

std::string change_words(const NoteStep& note, const BenchEntry& take) {
  const int places = places_deserved(note.change.u95_cents, 1);
  return fmt::format("{} {} ({})", spelt(take, note.note), signed_fixed(note.change.cents, places),
                     plus_minus(note.change.u95_cents, places));
}

Prose step_prose(const HistoryStep& step, const History& history) {
  const BenchEntry& after = history.takes[step.after];
  std::vector<std::string> changed;
  for (const NoteStep& note : step.notes)
    if (note.is_real) changed.push_back(change_words(note, after));
  const std::string what = changed.empty() ? "no note has surely changed" : "cents: " + list_in_words(changed);
  const std::string common =
      history.repeat ? "" : fmt::format("; all notes together {} cents", signed_fixed(step.common_cents, 1));
  const std::string doubt =
      step.head_allowed_for ? "" : " (where the head was is not known for both takes: a move of it is included)";
  const std::string warmth =
      step.air_differs ? " (the bore was not equally warm, which is included: run batch with --quote-at)" : "";
  return words("  " + step_name(step, history) + ": " + what + common + doubt + warmth + ".", 4);
}

/// How large a change must be to be one.
std::string repeat_in_words(const std::optional<BenchRepeat>& repeat) {
  if (!repeat)
    return "  It is not known how well this bench repeats a note, as these results have no flute recorded twice "
           "unchanged. Half a cent is assumed. A change common to all notes may be warmth or blowing.";
  return fmt::format(
      "  An unchanged flute recorded again comes back within {} cents as a whole, and its notes within {} cents of "
      "each other (19 times out of 20). So a change counts from {} cents on, or from its own ± if that is larger.",
      fixed(repeat->whole_u95_cents, 1), fixed(repeat->note_u95_cents, 1),
      fixed(std::hypot(repeat->whole_u95_cents, repeat->note_u95_cents), 1));
}

}  // namespace

std::string step_name(const HistoryStep& step, const History& history) {
  return stage_name(history.takes[step.before]) + " to " + stage_name(history.takes[step.after]);
}

Prose history_prose(const History& history, std::size_t columns) {
  const std::string takes = count_in_words(history.takes.size(), "take");
  Prose prose = words(fmt::format("{}: {}.", name_of(history.takes.front()), takes)) + Prose(Gap{}) +
                takes_table(history, columns) + legend(history);
  if (history.steps.empty()) return prose;
  prose += Prose(Gap{}) + words("What the work changed, at moderate breath, with the head where it was before:");
  for (const HistoryStep& step : history.steps) prose += step_prose(step, history);
  return prose + words(repeat_in_words(history.repeat), 2);
}

std::string history_csv(const History& history) {
  BenchCsv table;
  std::string csv;
  for (const BenchEntry& take : history.takes) csv += table.add(take);
  return csv + table.finish();
}

}  // namespace windway
