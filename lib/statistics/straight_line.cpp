// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/straight_line.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "units/coverage_factor.hpp"

namespace windway {

StraightLine fit_line(std::span<const LinePoint> points) {
  assert(!points.empty());
  StraightLine line;
  for (const LinePoint& p : points) {
    line.weights += p.weight;
    line.mean_x += p.weight * p.x;
    line.mean_y += p.weight * p.y;
  }
  line.mean_x /= line.weights;
  line.mean_y /= line.weights;
  for (const LinePoint& p : points) {
    const double x = p.x - line.mean_x, y = p.y - line.mean_y;
    line.xx += p.weight * x * x;
    line.xy += p.weight * x * y;
    line.yy += p.weight * y * y;
  }
  line.slope = line.xx > 0 ? line.xy / line.xx : 0.0;
  return line;
}

std::optional<CentsEstimate> rise_of(std::span<const double> in_order_cents) {
  const std::size_t n = in_order_cents.size();
  if (n < 3) return std::nullopt;
  std::vector<LinePoint> points;
  for (std::size_t i = 0; i < n; ++i) points.push_back({static_cast<double>(i), in_order_cents[i]});
  const StraightLine line = fit_line(points);
  const double last = static_cast<double>(n - 1);
  const double rest = std::max(0.0, line.yy - line.slope * line.xy);
  const double degrees = static_cast<double>(n) - 2.0;
  const double u95_slope = u95_factor(degrees) * std::sqrt(rest / degrees / line.xx);
  return CentsEstimate{line.slope * last, u95_slope * last};
}

}  // namespace windway
