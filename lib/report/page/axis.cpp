// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/axis.hpp"

#include <algorithm>
#include <cmath>

#include "report/page/typography.hpp"
#include "report/wording/figures.hpp"

namespace windway {

double Axis::percent(double value) const { return 100.0 * std::clamp((value - least) / (most - least), 0.0, 1.0); }

Axis axis_over(const std::vector<double>& values, double least_width) {
  constexpr double room = 0.04;  // of the width, at each end
  double least = 0, most = 0;
  for (const double value : values) least = std::min(least, value), most = std::max(most, value);
  const double lacking = std::max(0.0, least_width - (most - least));
  least -= lacking / 2, most += lacking / 2;
  const double margin = room * (most - least);
  return {least - margin, most + margin};
}

double tick_step(const Axis& axis, int most_ticks) {
  const double width = axis.most - axis.least;
  const double power = std::pow(10.0, std::floor(std::log10(width / most_ticks)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (width / (factor * power) <= most_ticks) return factor * power;
  return 10.0 * power;
}

std::vector<double> ticks(const Axis& axis, int most_ticks) {
  const double step = tick_step(axis, most_ticks);
  std::vector<double> values;
  const auto first = static_cast<long>(std::ceil(axis.least / step));
  const auto last = static_cast<long>(std::floor(axis.most / step));
  for (long at = first; at <= last; ++at) values.push_back(static_cast<double>(at) * step);
  return values;
}

int tick_places(double step) { return std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9))); }

std::string tick_label(double value, double step) { return typeset(signed_fixed(value, tick_places(step))); }

}  // namespace windway
