// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/interval_row.hpp"

#include "report/page/marks.hpp"

namespace windway {

Axis axis_over_intervals(const std::vector<CentsEstimate>& estimates) {
  constexpr double least_width_cents = 6;
  std::vector<double> ends;
  for (const auto& [cents, u95_cents] : estimates) ends.insert(ends.end(), {cents - u95_cents, cents + u95_cents});
  return axis_over(ends, least_width_cents);
}

Markup interval_picture(const CentsEstimate& estimate, bool is_sure, const Axis& axis, double row_px) {
  const auto& [cents, u95_cents] = estimate;
  const double x = axis.percent(cents), middle_px = row_px / 2;
  return grid_lines(axis, most_interval_ticks, row_px) + upright(axis, 0, row_px, "zero") +
         interval(axis, cents - u95_cents, cents + u95_cents, middle_px) +
         (is_sure ? dot(x, middle_px) : ring(x, middle_px, "reach"));
}

std::vector<FigureKey> interval_keys(const std::string& sure, const std::string& interval_name) {
  return {dot_key("move", sure),
          ring_key("reach", "not surely"),
          {interval({0, 1}, 0.05, 0.95, key_middle_px), 30, interval_name}};
}

}  // namespace windway
