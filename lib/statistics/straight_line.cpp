// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/straight_line.hpp"

#include <cassert>

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

}  // namespace windway
