// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>

#include "units/units.hpp"

namespace windway {

struct LinePoint {
  double x = 0;
  double y = 0;
  double weight = 1;  ///< 1 / variance, or in proportion to it
};

/// A straight line by weighted least squares, with the sums that its uncertainty asks for. Where the weights are 1 /
/// variance, its slope has the variance 1 / xx and its mean_y 1 / weights, independent of each other.
struct StraightLine {
  double mean_x = 0;
  double mean_y = 0;
  double slope = 0;  ///< 0 where all x are equal
  double weights = 0;
  double xx = 0, xy = 0, yy = 0;  ///< weighted sums of squares and products about the means

  double at(double x) const { return mean_y + slope * (x - mean_x); }
};

/// `points` must not be none.
StraightLine fit_line(std::span<const LinePoint> points);

/// How much a series in order rises (+) from its first to its last value by the straight line through it, cents; its
/// u95 by the scatter about that line (least squares, Student). Empty for fewer than three values.
std::optional<CentsEstimate> rise_of(std::span<const double> in_order_cents);

}  // namespace windway
