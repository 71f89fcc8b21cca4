// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "breath/blows/blows.hpp"
#include "breath/response/one_factor.hpp"
#include "breath/response/swell.hpp"
#include "breath/response/wander.hpp"

namespace windway {

/// Prior, from memory: a quarter of a dB of eight, give or take a factor of two and a half.
inline constexpr SdPrior usual_blow_scatter{0.03, 0.9};

/// How unequally the player blew what was meant alike, strength being 0 for soft and 1 for hard. It makes the mean of a
/// blow differ from the response at the strength meant. No single hold shows it, however steady the hold is.
struct BlowScatter {
  double strength_sd = 0;  ///< of a blow about the mean strength of its label
  double moderate_strength = 0.5;
};

/// From the residuals of level and breath noise, each note having its own offset and all notes the same steps between
/// strengths. What both cues share is the player's; the rest is each cue's own error (a room bends the level of a tone,
/// not of noise). The breath's wander within the holds is counted with the holds and taken out here. Without repeats:
/// the prior. `bend_cents` by hold: from soft to hard of its note.
BlowScatter measure_blow_scatter(const Naming& naming, const Blows& blows, const Wander& wander,
                                 const std::vector<double>& bend_cents);

/// The same for the ends of swells: from how the ranges of their level and noise differ from note to note.
double measure_swell_scatter(const std::map<std::size_t, SwellResponse>& swells);

}  // namespace windway
