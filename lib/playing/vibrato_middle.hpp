// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "playing/melody.hpp"
#include "playing/note_runs.hpp"

namespace windway {

/// A player's vibrato over a whole melody.
struct MelodyVibrato {
  double rate_hz = 0;
  double depth_cents = 0;  ///< either way from its middle
};

/// Empty where the runs show none: less than 3 cents either way, or most of the pitch's movement is something else.
std::optional<MelodyVibrato> find_vibrato(const Melody& melody, const std::vector<NoteRun>& runs);

/// The cents above 440 Hz of a run's steady frames, its vibrato taken off. A median needs that: a vibrato is seldom in
/// its middle, and a short note holds no whole swing. A least-squares sine that knows the player's rate and depth.
std::vector<double> middle_cents(const Melody& melody, const NoteRun& run, const std::optional<MelodyVibrato>& vibrato);

}  // namespace windway
