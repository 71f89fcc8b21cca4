// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "report/bench/history_report.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

constexpr double row_px = 22.0;
constexpr int most_ticks = 7;

Axis cents_axis(const HistoryStep& step) {
  constexpr double least_width_cents = 6;
  std::vector<double> ends;
  for (const NoteStep& note : step.notes) {
    ends.push_back(note.change.cents - note.change.u95_cents);
    ends.push_back(note.change.cents + note.change.u95_cents);
  }
  return axis_over(ends, least_width_cents);
}

FigureRow row_of(const NoteStep& note, const BenchEntry& take, const Axis& axis) {
  const auto& [cents, u95_cents] = note.change;
  const double x = axis.percent(cents), middle_px = row_px / 2;
  const int places = places_deserved(u95_cents, 1);
  const std::string words = signed_fixed(cents, places) + " (" + plus_minus(u95_cents, places) + ")";
  const Markup drawn = grid_lines(axis, most_ticks, row_px) + upright(axis, 0, row_px, "zero") +
                       interval(axis, cents - u95_cents, cents + u95_cents, middle_px) +
                       (note.is_real ? dot(x, middle_px) : ring(x, middle_px, "reach"));
  const std::string said = words + " cents, " + (note.is_real ? "surely changed" : "not surely changed");
  return {spelt(take, note.note), drawn, row_px, said, words};
}

}  // namespace

RowsFigure step_figure(const History& history, std::size_t step) {
  constexpr double key_px = 18;
  const HistoryStep& changed = history.steps[step];
  const Axis axis = cents_axis(changed);
  RowsFigure figure;
  figure.id = fmt::format("step-{}", step + 1);
  figure.title = "What changed from " + step_name(changed, history);
  figure.keys = {{dot(50, key_px / 2), 16, "surely changed"},
                 {ring(50, key_px / 2, "reach"), 16, "not surely"},
                 {interval({0, 1}, 0.05, 0.95, key_px / 2), 30, "±"}};
  figure.axis_name = "cents: − flatter, + sharper";
  figure.axis = axis_row(axis, most_ticks);
  figure.words_name = "cents";
  figure.words_stay_on_phone = false;
  for (const NoteStep& note : changed.notes) figure.rows.push_back(row_of(note, history.takes[changed.after], axis));
  return figure;
}

}  // namespace windway
