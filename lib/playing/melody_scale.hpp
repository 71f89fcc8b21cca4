// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "playing/melody.hpp"
#include "playing/note_runs.hpp"
#include "scale/naming.hpp"

namespace windway {

/// What a melody is played on, and which notes it plays.
struct MelodyScale {
  Naming naming;                     ///< of its stretches, the longest 600
  std::vector<MelodyPitch> pitches;  ///< ascending
};

/// Names the stretches of a melody jointly, as sharp as the whole may be. A note outside the scale counts where it
/// sounds for 0.3 s and more. Empty where it is no melody: silence, noise, talk. Throws Error (kind usage) as
/// name_holds does.
std::optional<MelodyScale> scale_of(const Melody& melody, const InstrumentHint& hint, const Tuning& tuning);

}  // namespace windway
