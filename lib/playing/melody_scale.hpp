// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "playing/melody.hpp"
#include "scale/naming.hpp"

namespace windway {

/// What a melody is played on, and which note sounds when.
struct MelodyScale {
  Naming naming;                                 ///< of the longest 600 notes
  std::map<int, std::vector<MelodyNote>> notes;  ///< by MIDI number, in order of time
};

/// Names the notes of a melody jointly, as sharp as the whole may be. A note outside the scale counts where it sounds
/// for half a second and more in all. Empty where it is no melody: silence, noise, talk. Throws Error (kind usage) as
/// name_holds does.
std::optional<MelodyScale> scale_of(const Melody& melody, const InstrumentHint& hint, const Tuning& tuning);

}  // namespace windway
