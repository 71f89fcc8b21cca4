// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "scale/naming.hpp"

namespace windway {

/// A hold's curve in means of short blocks, so that the pitch track's overlapping windows no longer colour its noise.
struct PitchCurve {
  std::vector<double> time_s;  ///< from the middle of the hold
  std::vector<double> cents;   ///< deviation from the target
  std::vector<double> level_db;
  std::vector<double> noise_db;
  double read_over_s = 0;  ///< how long a stretch one point is a mean over
};

/// Blocks of 50 ms, or of one vibrato period, over which a vibrato cancels; broken parts of the hold make no block.
/// Empty where the hold has no curve.
PitchCurve pitch_curve(const NamedHold& hold);

/// Whether its curve is long enough to fit the response of a swell to it.
bool is_long_enough_for_a_swell(const NamedHold& hold);

/// What moves the pitch of one hold beside its wander: a constant and a straight sag.
std::vector<std::vector<double>> steady_columns(const PitchCurve& curve);

}  // namespace windway
