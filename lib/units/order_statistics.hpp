// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// The middle value, or the mean of the middle two; empty for no values.
std::optional<double> median_of(std::vector<double> values);

}  // namespace windway
