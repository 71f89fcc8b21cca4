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

}  // namespace windway
