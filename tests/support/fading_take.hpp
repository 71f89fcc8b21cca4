// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/take.hpp"

namespace windway::synthesis {

/// How a blow dies away: the breath is let go slowly and the pitch sinks with it.
struct Fade {
  double duration_s = 0.3;
  double sag_cents = 100.0;  ///< how far under the hold its last moment is
};

/// As synthesise_take, without warming and talk, but every blow ends in the fade; it counts as the release.
SyntheticTake fading_take(const FluteModel& flute, const std::vector<Blowing>& blowings, const Performance& performance,
                          const Fade& fade, Random& random);

}  // namespace windway::synthesis
