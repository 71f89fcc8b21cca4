// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/pitch_curve.hpp"
#include "breath/wander.hpp"
#include "units/units.hpp"

namespace windway {

/// A hold blown from soft to hard (or back) in one breath: level and pitch sweep the same way, the level by more than
/// 3 dB and steadily, and the breath noise with them where it is heard.
bool is_swell(const NamedHold& hold);

/// Whether its curve is long enough, and its level moves enough, to fit a response at all.
bool tells_a_response(const NamedHold& hold);

/// How a note answers along one swell.
struct SwellResponse {
  CentsEstimate soft, moderate, hard;  ///< at the 5th percentile, the median, the 95th percentile of strength over time
  CentsEstimate spread;
  double soft_db = 0, moderate_db = 0, hard_db = 0;                                ///< levels there
  double soft_cents_per_db = 0, moderate_cents_per_db = 0, hard_cents_per_db = 0;  ///< slopes there
  double noise_sweep_db = 0;  ///< of the breath noise, from its first fifth to its last
};

/// The curve of a swell without its first tenth of a second, in which the level still settles.
PitchCurve swell_curve(const NamedHold& hold);

/// A quadratic in level, and time: for the wander's regression.
std::vector<std::vector<double>> swell_columns(const PitchCurve& curve);

/// Pitch against strength along the swell `hold`: a quadratic in level under the take's wander. Within one breath the
/// pitch also sinks as its carbon dioxide rises, which a rising swell hides: taken as 0.7 cents a second, SD 0.4
/// (Fuks, TMH-QPSR 37/4 (1996) 37: some 2.5 to 8.5 % along a phrase, 4.5 cents a percent; the time of a phrase from
/// memory), corrected to the middle of the hold, and its doubt put into the u95. (The curve
/// itself tells the sinking from the swelling too badly to be asked.)
SwellResponse swell_response(const Naming& naming, std::size_t hold, const Wander& wander);

}  // namespace windway
