// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/blows.hpp"

namespace windway {

/// A first look at how far each hold's note bends from soft to hard, cents, by hold: the difference of its softest and
/// hardest blows, or the sweep of its swell. A note that does not tell takes the median of the others; 0 for all where
/// no note tells.
std::vector<double> bend_by_hold(const Naming& naming, const Blows& blows);

/// How fast each hold's note bends at the strength of its blow, cents for the whole way from soft to hard, by hold: a
/// parabola whose curvature is the median of the notes' (soft breath bends more). `moderate_way`: where moderate stands
/// on the way from soft, 0, to hard, 1. `bend_cents` as above.
std::vector<double> bend_at_blow(const Naming& naming, const Blows& blows, const std::vector<double>& bend_cents,
                                 double moderate_way);

}  // namespace windway
