// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "breath/blows.hpp"

namespace windway {

inline constexpr int blow_strengths = 3;  ///< soft, moderate, hard

/// Whole blows with a strength, their label 0 soft, 1 moderate, 2 hard, grouped by note and take.
struct LabelledHolds {
  std::vector<std::size_t> hold;  ///< index among the named holds
  std::vector<int> label;
  std::vector<int> group;
};

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows);

}  // namespace windway
