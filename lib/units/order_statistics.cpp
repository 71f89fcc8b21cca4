// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/order_statistics.hpp"

#include <algorithm>

namespace windway {

std::optional<double> median_of(std::vector<double> values) {
  if (values.empty()) return std::nullopt;
  const auto upper = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), upper, values.end());
  if (values.size() % 2 == 1) return *upper;
  return 0.5 * (*std::max_element(values.begin(), upper) + *upper);
}

std::vector<double> running_medians(std::span<const double> values, std::size_t width) {
  std::vector<double> medians;
  if (values.size() < width) return medians;
  medians.reserve(values.size() + 1 - width);
  std::vector<double> sorted(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(width));
  std::sort(sorted.begin(), sorted.end());
  for (std::size_t entering = width;; ++entering) {
    medians.push_back(0.5 * (sorted[(width - 1) / 2] + sorted[width / 2]));
    if (entering == values.size()) return medians;
    const double value = values[entering];
    auto at = std::lower_bound(sorted.begin(), sorted.end(), values[entering - width]);
    for (; at + 1 != sorted.end() && *(at + 1) < value; ++at) *at = *(at + 1);
    for (; at != sorted.begin() && *(at - 1) > value; --at) *at = *(at - 1);
    *at = value;
  }
}

}  // namespace windway
