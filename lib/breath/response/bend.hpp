// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/blows/blows.hpp"

namespace windway {

/// A first look at how far each hold's note bends from soft to hard, cents, by hold: the difference of its softest and
/// hardest blows, or the sweep of its swell. A note without either takes the median of the others; 0 for all where
/// no note has one.
std::vector<double> bend_by_hold(const Naming& naming, const Blows& blows);

/// Slope of each hold's note at the strength of its blow, by hold, in cents from soft, strength 0, to hard, 1: the
/// note's response is a parabola whose curvature is the median of the notes' (soft breath bends more).
/// `moderate_strength`: of moderate, on that scale. `bend_cents` as above.
std::vector<double> bend_at_blow(const Naming& naming, const Blows& blows, const std::vector<double>& bend_cents,
                                 double moderate_strength);

}  // namespace windway
