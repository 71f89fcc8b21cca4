// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// Value of MelodyFrame::cents where no tone is heard.
inline constexpr float no_pitch = -1e6F;

/// What of a frame of the pitch track goes into the judgement of a melody; an hour has 360 000, so it is kept short.
struct MelodyFrame {
  float cents = no_pitch;  ///< above 440 Hz; no_pitch where no tone is heard
  float level_db = 0;      ///< of the tone, dB full scale
  bool sounds() const { return cents > 0.5F * no_pitch; }
};

/// A whole recorded melody.
struct Melody {
  double first_s = 0;
  double hop_s = 0.01;
  std::vector<MelodyFrame> frames;

  double time_s(std::size_t frame) const { return first_s + static_cast<double>(frame) * hop_s; }
  /// The nearest number of frames.
  std::size_t frames_in(double seconds) const;
  /// Appends the next chapter of the track.
  void add(const PitchTrack& chapter);
};

/// The same without what is far softer than the playing: a room's last echo, a sound from outside.
Melody without_faint(Melody melody);

}  // namespace windway
