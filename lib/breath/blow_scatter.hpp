// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "breath/blows.hpp"
#include "breath/wander.hpp"

namespace windway {

/// How unequally the player blew what was meant alike. It makes the mean of a blow differ from the response at the
/// strength meant, and no single hold shows it: its own steadiness tells nothing of the blow before.
struct BlowScatter {
  double way_sd = 0;   ///< SD of a blow's strength about its label's, as a share of the way from soft to hard
  double degrees = 0;  ///< blows beyond those that the notes' offsets and the steps use up; 0: the usual is taken
  double moderate_way = 0.5;  ///< where moderate stands on the way from soft, 0, to hard, 1
};

/// From what level and breath noise of the other notes tell: each note has its own offset, the steps between the
/// strengths are common, and what is left in both cues at once is the player's; what is left in one alone is that
/// cue's own (a room bends the level of a tone, not of noise). One-factor analysis by expectation and maximisation
/// (D. B. Rubin and D. T. Thayer, Psychometrika 47 (1982) 69). The breath's wander within the holds is taken out: it is
/// counted there.
BlowScatter measure_blow_scatter(const Naming& naming, const Blows& blows, const Wander& wander);

}  // namespace windway
