// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"

namespace windway {

/// Which blow each hold is.
struct Blows {
  std::vector<std::optional<Blow>> blow;  ///< by hold; absent: not in the scale, the only strength, or not sure
  std::vector<bool> used;                 ///< by hold; false: not in the scale, or its blow is not sure
  Warnings warnings;
};

/// The blows as the player named them. Holds that do not make up whole rounds of the order are left out and named.
Blows told_blows(const Naming& naming, const BlowHint& hint);

/// Judges the blows from level, breath noise, colour, pitch and order together, jointly over the notes; `is_swell` by
/// hold. A note none of whose blows is sure keeps its holds in use, without a blow. One strength alone, or a doubt
/// whether there are more, gives no blow. Whole blows of three strengths are soft, moderate, hard; of two, soft and
/// hard.
Blows judge_blows(const Naming& naming, const std::vector<bool>& is_swell);

}  // namespace windway
