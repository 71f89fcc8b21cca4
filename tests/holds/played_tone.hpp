// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <vector>

#include "holds/holds.hpp"

namespace windway::test {

/// A stretch of sound or, with level 0, of silence.
struct Stretch {
  double duration_s = 0.0;
  double cents = 0.0;  ///< from the tone's f0
  double level = 1.0;  ///< of tone and breath noise together
};

struct PlayedTone {
  double rate_hz = 24000.0;
  double f0_hz = 587.3295;
  double amplitude = 0.2;
  double breath_db = -32.0;  ///< noise of the breath against the tone, RMS
  double floor_db = -70.0;   ///< noise of the room, dB full scale, RMS
  double ramp_s = 0.012;     ///< from one stretch's level to the next's
};

/// The stretches one after the other, the phase running on, with 0.5 s of silence before and after.
std::vector<float> played(const PlayedTone& tone, const std::vector<Stretch>& stretches, std::uint64_t seed);

/// Track and holds of samples, by the usual rules.
std::vector<Hold> holds_in(const std::vector<float>& samples, double rate_hz, const HoldRules& rules = {});

}  // namespace windway::test
