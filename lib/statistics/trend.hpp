// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>

#include "units/units.hpp"

namespace windway {

/// How much a series in order rises (+) from its first to its last value by the straight line through it, cents; its
/// u95 by the scatter about that line (least squares, Student). Empty for fewer than three values.
std::optional<CentsEstimate> rise_of(std::span<const double> in_order_cents);

}  // namespace windway
