// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>

namespace windway {

/// The part of a recording in which a note is measured.
struct PartialStretch {
  std::span<const float> samples;  ///< of the whole recording
  double rate_hz = 0;
  double start_s = 0;
  double end_s = 0;
};

/// Two lines or more close together where one is looked for: reeds or strings tuned apart.
struct SplitLine {
  double middle_hz = 0;  ///< halfway between the outermost
  double apart_hz = 0;   ///< from the lowest to the highest
  bool is_pair = true;   ///< two lines, not three: what vibrato makes is three
};

/// One partial, measured over a stretch.
struct PartialLine {
  double hz = 0;
  double sd_hz = 0;                  ///< standard deviation: noise, and how unsteadily the phase goes on
  double waver_hz = 0;               ///< standard deviation beside that, where the phase swings to and fro
  std::optional<SplitLine> split{};  ///< where it beats, and the stretch is long enough to tell
};

/// Measures the frequency of the line near `near_hz` (within a hertz or two) over the stretch: its phase through
/// windows of a tenth of a second, a straight line through that, each window weighted by what the noise beside the line
/// leaves of it. Empty where it is lost in noise or too short. `apart_hz`: how far its neighbours are at least.
std::optional<PartialLine> measure_partial(const PartialStretch& stretch, double near_hz, double apart_hz);

}  // namespace windway
