// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "playing/melody.hpp"

namespace windway {

/// A player's vibrato over a whole melody.
struct MelodyVibrato {
  double rate_hz = 0;
  double depth_cents = 0;  ///< either way from its middle
};

/// Empty where the notes, by MIDI number, show none: less than 3 cents either way, or most of the pitch's movement is
/// something else.
std::optional<MelodyVibrato> find_vibrato(const std::map<int, std::vector<MelodyNote>>& occurrences);

/// The cents above 440 Hz of a note's steady frames, its vibrato taken off. A median needs that: a vibrato is seldom in
/// its middle, and a short note holds no whole period. A least-squares sine that knows the player's rate and depth.
std::vector<double> middle_cents(const MelodyNote& note, const std::optional<MelodyVibrato>& vibrato);

}  // namespace windway
