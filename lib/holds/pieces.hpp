// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// Blowing moves no pitch faster: a steep swell moves it by 60 cents a second (common practice, no source).
inline constexpr double fastest_blowing_cents_per_s = 150.0;

/// Consecutive frames, first and last included.
struct FrameSpan {
  std::size_t first = 0;
  std::size_t last = 0;

  std::size_t frames() const { return last - first + 1; }
  bool operator==(const FrameSpan&) const = default;
};

/// A stretch of one sounding note: spans of frames with short breaks between them (a cut, a tap, another register).
struct Piece {
  std::vector<FrameSpan> spans;  ///< ascending, at least one

  std::size_t first() const { return spans.front().first; }
  std::size_t last() const { return spans.back().last; }
};

/// What the later steps need of each frame; a frame that is not tonal has no value.
struct FrameSeries {
  double hop_s = 0;
  std::vector<std::optional<double>> cents;  ///< against 440 Hz
  std::vector<double> level_db;              ///< RMS of the tone; -200 where there is none
  std::vector<double> noise_db;              ///< power density of the breath noise; all alike where it tells nothing
  double quiet_noise_db = 0;                 ///< what that falls to between the notes
};

FrameSeries series_of(const PitchTrack& track);

/// Breath noise that stands this far over quiet_noise_db is heard: it is the player's.
inline constexpr double breath_heard_db = 6.0;

/// Cuts a track into pieces: at silence, at a change of note even without a gap, and where the level dips as between
/// two blows of one note in a reverberant room. Breaks shorter than a blow can make are bridged.
std::vector<Piece> find_pieces(const FrameSeries& series);

}  // namespace windway
