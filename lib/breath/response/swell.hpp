// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <vector>

#include "breath/blows/pitch_curve.hpp"
#include "breath/response/wander.hpp"
#include "units/units.hpp"

namespace windway {

/// How a note answers along one swell.
struct SwellResponse {
  CentsEstimate soft, moderate, hard;  ///< at the 5th percentile, the median, the 95th percentile of strength over time
  CentsEstimate spread;
  double range_db = 0;        ///< of the level, from soft to hard
  double noise_range_db = 0;  ///< of the breath noise
};

/// A quadratic in strength, and time: for the wander's regression.
std::vector<std::vector<double>> swell_columns(const PitchCurve& curve);

/// Pitch against strength along the swell `hold`, whichever way it goes: the blocks of its curve are put in order of
/// strength, and soft and hard are the pitch in the softest and the hardest tenth of the time, moderate the middle of a
/// parabola through the rest. Within one breath the pitch also sinks as its carbon dioxide rises, which a rising swell
/// hides: taken as 0.7 cents a second, SD 0.4 (Fuks, TMH-QPSR 37/4 (1996) 37: some 2.5 to 8.5 % along a phrase, 4.5
/// cents a percent; the time of a phrase from memory), corrected to the middle of the hold, and its doubt put into the
/// u95. (The curve itself tells the sinking from the swelling too badly to be asked.)
SwellResponse swell_response(const Naming& naming, std::size_t hold, const Wander& wander);

/// A room bends the levels of each swell by its own: the ranges of level drawn towards their mean, as far as they
/// scatter more than a player does.
std::map<std::size_t, SwellResponse> with_common_range(std::map<std::size_t, SwellResponse> swells);

}  // namespace windway
