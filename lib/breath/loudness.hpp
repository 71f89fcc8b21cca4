// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>

#include "breath/blows.hpp"

namespace windway {

/// How far apart in level a note's strengths were blown, dB, both positive.
struct LevelSteps {
  double below_db = 0;  ///< moderate minus soft; of two blows half of the way from soft to hard
  double above_db = 0;  ///< hard minus moderate, likewise
};

/// The strengths of the take in dB.
struct Loudness {
  /// By MIDI key, where soft and hard stand in one take: the note's own steps, drawn towards those common to the take as
  /// far as the room bends levels (seen from how little the notes agree).
  std::map<int, LevelSteps> steps;
  /// Levels are all alike though breath noise or colour say that the blows were not: an automatic gain was on.
  bool levelled = false;
};

/// Level against blow over all notes; levels of different takes are not compared.
Loudness measure_loudness(const Naming& naming, const Blows& blows);

}  // namespace windway
