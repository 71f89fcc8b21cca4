// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace windway {

/// The middle value, or the mean of the middle two; empty for no values.
std::optional<double> median_of(std::vector<double> values);

/// The value with `rank` others below it or equal, counted from 0; there must be more values than that.
template <typename Value>
Value value_of_rank(std::vector<Value> values, std::size_t rank) {
  assert(rank < values.size());
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(rank);
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

/// A normal variable's SD over its median absolute deviation: 1 / Phi^-1(3/4) (F. R. Hampel, J. Amer. Statist. Assoc.
/// 69 (1974) 383, from memory).
inline constexpr double sd_per_mad = 1.482602218505602;

/// The running median over `width` (> 0) neighbours: values.size() + 1 - width of them, none for fewer values.
std::vector<double> running_medians(std::span<const double> values, std::size_t width);

}  // namespace windway
