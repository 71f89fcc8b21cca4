// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/holds.hpp"

namespace windway {

/// Every held note of the track of a whole take, as `measure` finds them chapter by chapter.
inline std::vector<Hold> find_holds(const PitchTrack& track, const HoldRules& rules) {
  return without_faint(holds_of_chapter(track, rules).holds);
}

}  // namespace windway
