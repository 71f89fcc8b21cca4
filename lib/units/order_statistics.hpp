// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace windway {

/// The middle value, or the mean of the middle two; empty for no values.
std::optional<double> median_of(std::vector<double> values);

/// The median of each `width` (> 0) neighbours, from the first on: values.size() + 1 - width of them, none where there
/// are fewer values.
std::vector<double> running_medians(std::span<const double> values, std::size_t width);

}  // namespace windway
