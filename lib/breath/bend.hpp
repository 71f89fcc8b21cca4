// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/blows.hpp"

namespace windway {

/// A first look at how far each hold's note bends from soft to hard, cents, by hold: the difference of its softest and
/// hardest blows, or the sweep of its swell. A note that does not tell takes the median of the others; 0 for all where
/// no note tells.
std::vector<double> bend_by_hold(const Naming& naming, const Blows& blows);

}  // namespace windway
