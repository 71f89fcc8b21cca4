// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "scale/naming.hpp"

namespace windway {

/// A hold's curve in means of short blocks, so that the pitch track's overlapping windows no longer colour its noise.
struct PitchCurve {
  std::vector<double> time_s;  ///< from the middle of the hold
  std::vector<double> cents;   ///< deviation from the target
  std::vector<double> level_db;
};

/// What one point of a PitchCurve is a mean over: its block and the pitch track's Hann window, as one even stretch.
inline constexpr double curve_reads_over_s = 0.058;

/// Blocks of 50 ms; broken parts of the hold make no block. Empty where the hold has no curve.
PitchCurve pitch_curve(const NamedHold& hold);

/// What moves the pitch of one hold beside its wander: a constant, a straight sag, and its vibrato if it has one.
std::vector<std::vector<double>> steady_columns(const PitchCurve& curve, std::optional<double> vibrato_hz);

}  // namespace windway
