// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// Consecutive frames, first and last included.
struct FrameSpan {
  std::size_t first = 0;
  std::size_t last = 0;

  std::size_t frames() const { return last - first + 1; }
  bool operator==(const FrameSpan&) const = default;
};

/// What the segmentation needs of each frame; a frame that is not tonal has no pitch.
struct FrameSeries {
  double hop_s = 0;
  double window_s = 0;                       ///< of the track
  std::vector<std::optional<double>> cents;  ///< against 440 Hz
  std::vector<double> level_db;              ///< RMS of the tone; -200 where there is none
  std::vector<double> noise_db;  ///< power density of the breath noise; all equal where it carries no information
  double quiet_noise_db = 0;     ///< what that falls to between the notes

  /// To the nearest.
  std::size_t frames_in(double seconds) const {
    return static_cast<std::size_t>(seconds / hop_s + 0.5);  // NOLINT(bugprone-incorrect-roundings)
  }
};

FrameSeries series_of(const PitchTrack& track);

}  // namespace windway
