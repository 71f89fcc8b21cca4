// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "breath/blows.hpp"

namespace windway {

/// Whole blows with a strength, which is their label, grouped by note and take.
struct LabelledHolds {
  std::vector<std::size_t> hold;  ///< index among the named holds
  std::vector<int> label;
  std::vector<int> group;
  int strengths = 1;
};

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows);

}  // namespace windway
