// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "segmentation/segmentation.hpp"

namespace windway {

/// A scoop settles as e^(-t / this), the slower ones: a guess, as no measured attacks are at hand.
inline constexpr double scoop_settles_s = 0.022;

/// Where a piece sounds at its full strength, and the spans of it that are fit for measuring.
struct SteadyPart {
  FrameSpan sounding;                ///< from the attack to the release: the whole hold
  std::vector<FrameSpan> spans;      ///< without attack, release, breaks and 30 ms either side of a break; at least one
  double after_attack_s = 0;         ///< margin between the attack and the first span
  double scoop_cents = 0;            ///< at most, what a scoop still was at the margin's beginning
  std::optional<double> vibrato_hz;  ///< then the steady part is whole periods of it where they fill the hold
};

/// Trims attack and release off a piece by level, breath noise and pitch together; empty where nothing steady remains
/// or where it is an echo that dies away.
std::optional<SteadyPart> steady_part(const FrameSeries& series, const Piece& piece);

}  // namespace windway
