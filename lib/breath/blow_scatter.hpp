// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "breath/blows.hpp"
#include "breath/one_factor.hpp"
#include "breath/swell.hpp"
#include "breath/wander.hpp"

namespace windway {

/// What is believed beforehand, from memory: a quarter of a dB of eight, give or take a factor of two and a half.
inline constexpr FactorBelief usual_blow_scatter{0.03, 0.9};

/// How unequally the player blew what was meant alike. It makes the mean of a blow differ from the response at the
/// strength meant, and no single hold shows it: its own steadiness tells nothing of the blow before.
struct BlowScatter {
  double way_sd = 0;          ///< SD of a blow's strength about its label's, as a share of the way from soft to hard
  double moderate_way = 0.5;  ///< where moderate stands on the way from soft, 0, to hard, 1
};

/// From what level and breath noise of the other notes tell: each note has its own offset, the steps between the
/// strengths are common, and what is left in both cues at once is the player's; what is left in one alone is that
/// cue's own (a room bends the level of a tone, not of noise). The breath's wander within the holds is taken out: it is
/// counted there. Where no notes tell, the usual. `bend_cents` by hold: from soft to hard of its note.
BlowScatter measure_blow_scatter(const Naming& naming, const Blows& blows, const Wander& wander,
                                 const std::vector<double>& bend_cents);

/// The same for the ends of swells, as a share of the way from the soft end to the hard: what their level and their
/// noise sweep, from note to note.
double measure_swell_scatter(const std::map<std::size_t, SwellResponse>& swells);

}  // namespace windway
