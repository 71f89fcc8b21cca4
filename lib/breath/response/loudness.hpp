// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "breath/blows/blows.hpp"

namespace windway {

/// How far apart in level a note's strengths were blown, dB, both positive.
struct LevelSteps {
  double below_db = 0;  ///< moderate minus soft; of two blows half of the way from soft to hard
  double above_db = 0;  ///< hard minus moderate, likewise
};

/// How much farther the take's median strengths lie than a note's own blows went.
struct StrengthFactors {
  double below = 1;  ///< from soft to moderate
  double above = 1;  ///< from moderate to hard
};

/// The strengths of the take in dB.
struct Loudness {
  /// By note, where soft and hard stand in one take: the note's own steps, drawn towards those common to the take
  /// as far as the room bends levels (seen from how little the notes agree).
  std::map<NoteId, LevelSteps> steps;
  /// By note, likewise: the take's median step against the note's own, as a factor, 1 where the note was blown like
  /// the others. Level and breath noise must agree that a blow was timid or bold: one of them alone is the note's own
  /// sound, or the room's.
  std::map<NoteId, StrengthFactors> to_median;
  /// Levels are all alike though breath noise or colour say that the blows were not: an automatic gain was on.
  bool levelled = false;
};

/// Level against blow over all notes; levels of different takes are not compared.
Loudness measure_loudness(const Naming& naming, const Blows& blows);

}  // namespace windway
