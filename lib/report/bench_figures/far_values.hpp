// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "report/page/axis.hpp"

namespace windway {

/// An axis over the usual values and those far from them. What lies very far out stays at the edge, so that one wrong
/// value does not flatten the rest: edge_sentence says so.
Axis axis_with_far(std::vector<double> usual, const std::vector<double>& far, double least_width);

inline constexpr const char* edge_sentence = "A mark at the edge stands for one farther out.";

}  // namespace windway
