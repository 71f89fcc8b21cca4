// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <cmath>
#include <sstream>

#include "report/bench/bench_csv.hpp"
#include "report/bench/history_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

std::string figure(const std::optional<double>& value, int places) { return value ? fixed(*value, places) : ""; }

std::string verdict_cell(const BenchEntry& take) {
  if (!take.error.empty()) return "not measured";
  const std::string verdict = take.result ? verdict_in_words(*take.result) : "measured";
  return take.counts ? verdict : verdict + " (overtaken)";
}

std::vector<std::string> row_of(const BenchEntry& take) {
  return {take.subject.stage.value_or(""), take.recorded_at.value_or(""), verdict_cell(take),
          figure(take.home_a4_hz, 1),      figure(take.head_rests_mm, 1), figure(take.evenness_cents, 1)};
}

/// The takes, each with its file where that fits the screen; else the files below.
std::string takes_table(const History& history) {
  const std::vector<Column> columns{{"stage"},         {"recorded"},         {"verdict"},
                                    {"home A4", true}, {"head rests", true}, {"evenness", true}};
  std::vector<std::vector<std::string>> rows;
  std::string files;
  for (const BenchEntry& take : history.takes) {
    rows.push_back(row_of(take));
    files +=
        wrapped("  " + take.subject.stage.value_or("") + " " + take.recorded_at.value_or("") + ": " + take.path, 4);
  }
  auto wide_columns = columns;
  wide_columns.push_back({"take"});
  auto wide_rows = rows;
  for (std::size_t i = 0; i < rows.size(); ++i) wide_rows[i].push_back(history.takes[i].path);
  std::string wide = table(wide_columns, wide_rows);
  std::istringstream lines(wide);
  for (std::string line; std::getline(lines, line);)
    if (display_width(line) > text_columns) return table(columns, rows) + files;
  return wide;
}

std::string stage_name(const BenchEntry& take) { return take.subject.stage.value_or(take.path); }

std::string change_words(const NoteStep& note, const BenchEntry& take) {
  const int places = places_deserved(note.change.u95_cents, 1);
  return fmt::format("{} {} ({})", spelt(take, note.note), signed_fixed(note.change.cents, places),
                     plus_minus(note.change.u95_cents, places));
}

std::string step_text(const HistoryStep& step, const History& history) {
  const BenchEntry& before = history.takes[step.before];
  const BenchEntry& after = history.takes[step.after];
  std::vector<std::string> changed;
  for (const NoteStep& note : step.notes)
    if (note.is_real) changed.push_back(change_words(note, after));
  const std::string stages = stage_name(before) + " to " + stage_name(after);
  const std::string what =
      changed.empty() ? "no note has changed by more than it is sure" : "cents: " + list_in_words(changed);
  const std::string doubt =
      step.head_allowed_for ? "" : " (where the head stood is not known of both: its move is in this)";
  const std::string warmth =
      step.air_differs ? " (the bore was not equally warm, and that is in this: batch with --quote-at puts it right)"
                       : "";
  return wrapped("  " + stages + ": " + what + doubt + warmth + ".", 4);
}

}  // namespace

std::string history_text(const History& history) {
  const std::string name = name_of(history.takes.front());
  std::string text =
      wrapped(fmt::format("{}: {}.", name, count_in_words(history.takes.size(), "take"))) + "\n" + takes_table(history);
  text += wrapped(
      "  home A4 in Hz, as recorded; head rests: mm out, at its own best; evenness: RMS of what is left of the notes "
      "there, cents",
      2);
  if (history.steps.empty()) return text;
  text += "\nWhat the work changed, at moderate breath, the head where it stood before:\n";
  for (const HistoryStep& step : history.steps) text += step_text(step, history);
  return text;
}

std::string history_csv(const History& history) {
  std::string csv = bench_csv_header();
  for (const BenchEntry& take : history.takes) csv += bench_csv_rows(take);
  return csv;
}

}  // namespace windway
