// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

/// A scale of a figure: from values to shares of its width (or height).
struct Axis {
  double least = 0;
  double most = 1;

  /// Where the value stands, in percent of the width; beyond the ends it stays at them.
  double percent(double value) const;
  bool holds(double value) const { return least <= value && value <= most; }
};

/// An axis over all the values and 0, with some room at both ends; never narrower than `least_width`.
Axis axis_over(const std::vector<double>& values, double least_width);

/// Round values within the axis, 1, 2 or 5 times a power of ten apart, about so many (at least 2), at most one more.
std::vector<double> ticks(const Axis& axis, int most_ticks);
/// Of a scale across a page.
inline constexpr int most_ticks_across = 7;

/// The step between the ticks.
double tick_step(const Axis& axis, int most_ticks);

/// How many decimals figures that far apart need.
int tick_places(double step);

/// "+1", "−0.5", "0": with the places that the step needs, a true minus.
std::string tick_label(double value, double step);

}  // namespace windway
