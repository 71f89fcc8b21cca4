// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/far_values.hpp"

#include <algorithm>

namespace windway {

Axis axis_with_far(std::vector<double> usual, const std::vector<double>& far, double least_width) {
  constexpr double most_times = 3;
  const Axis core = axis_over(usual, least_width);
  const double most = most_times * std::max(-core.least, core.most);
  for (const double value : far) usual.push_back(std::clamp(value, -most, most));
  return axis_over(usual, least_width);
}

}  // namespace windway
