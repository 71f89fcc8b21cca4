// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <vector>

#include "report/bench/history_report.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/interval_row.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

constexpr double step_row_px = 22.0;

Axis cents_axis(const HistoryStep& step) {
  std::vector<CentsEstimate> all;
  for (const NoteStep& note : step.notes) all.push_back(note.change);
  return axis_over_intervals(all);
}

FigureRow row_of(const NoteStep& note, const BenchEntry& take, const Axis& axis) {
  const auto& [cents, u95_cents] = note.change;
  const std::string words = signed_with_u95(cents, u95_cents);
  const std::string said = words + " cents, " + (note.is_real ? "surely changed" : "not surely changed");
  return {spelt(take, note.note), interval_picture(note.change, note.is_real, axis, step_row_px), step_row_px, said,
          words};
}

}  // namespace

RowsFigure step_figure(const History& history, std::size_t step) {
  const HistoryStep& changed = history.steps[step];
  const Axis axis = cents_axis(changed);
  RowsFigure figure;
  figure.id = fmt::format("step-{}", step + 1);
  figure.title = "What changed from " + step_name(changed, history);
  figure.keys = interval_keys("surely changed", "±");
  figure.axis_name = "cents: − flatter, + sharper";
  figure.axis = axis_row(axis, most_interval_ticks);
  figure.words_name = "cents";
  figure.words_stay_on_phone = false;
  for (const NoteStep& note : changed.notes) figure.rows.push_back(row_of(note, history.takes[changed.after], axis));
  return figure;
}

}  // namespace windway
