// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <vector>

#include "playing/melody.hpp"

namespace windway {

/// A player's vibrato over a whole melody.
struct MelodyVibrato {
  double rate_hz = 0;
  double depth_cents = 0;  ///< either way from its middle; 0 where no note is long enough to tell
};

/// The rate that explains most of how the pitch moves within the notes, by MIDI number. Where a player uses no vibrato
/// the depth is what chance makes of it, and middle_cents() takes next to nothing off.
MelodyVibrato find_vibrato(const std::map<int, std::vector<MelodyNote>>& occurrences);

/// The cents above 440 Hz of a note's steady frames, its vibrato taken off. A median needs that: a vibrato is seldom in
/// its middle, and a short note holds no whole period. A least-squares sine whose amplitude has the melody's depth as
/// its prior.
std::vector<double> middle_cents(const MelodyNote& note, const MelodyVibrato& vibrato);

}  // namespace windway
