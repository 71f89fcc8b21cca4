// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/order_statistics.hpp"

#include <algorithm>

namespace windway {

std::optional<double> median_of(std::vector<double> values) {
  if (values.empty()) return std::nullopt;
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace windway
