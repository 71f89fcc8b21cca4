// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <vector>

#include "breath/response/blow_means.hpp"
#include "breath/response/loudness.hpp"
#include "breath/response/note_breath.hpp"
#include "breath/response/swell.hpp"

namespace windway {

/// What the notes' responses are estimated from.
struct HoldReadings {
  std::vector<HoldPitch> pitch;                 ///< by hold
  std::map<std::size_t, SwellResponse> swells;  ///< by hold, swells only
  double swell_strength_sd = 0;                 ///< of a swell's ends about what was meant, share of its range
  bool may_have_warmed = true;                  ///< unseen: then warming can pass for breath
  std::vector<double> later_rise_cents;         ///< by hold: what the flute may have risen by after it, unseen (u95)
  double u95_factor = normal_u95_factor;        ///< standard deviations in a u95
};

/// One note's response, and what the player must know about it.
struct NoteResponse {
  NoteBreath note;
  bool blows_contradict = false;     ///< what was called hard is surely flatter than what was called soft
  bool moderate_is_guessed = false;  ///< blown soft only, or hard only, or at no known strength among notes that were
};

/// The notes of the scale, ascending, each from its used holds. A note without a moderate blow is brought to moderate
/// by the median distance of the other notes. Reach: the bend from moderate to the median soft and hard strengths of
/// all notes, linear between the note's own blows; where levels do not show the strengths, to its own soft and hard.
std::vector<NoteResponse> note_responses(const Naming& naming, const Blows& blows, const HoldReadings& readings,
                                         const Loudness& loudness);

}  // namespace windway
