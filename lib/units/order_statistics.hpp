// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace windway {

/// The middle value, or the mean of the middle two; empty for no values.
std::optional<double> median_of(std::vector<double> values);

/// The running median over `width` (> 0) neighbours: values.size() + 1 - width of them, none for fewer values.
std::vector<double> running_medians(std::span<const double> values, std::size_t width);

}  // namespace windway
