// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "pitch/octave_model.hpp"

namespace windway {

class Recording;

inline constexpr int harmonics_tracked = 5;

/// The tone found in one frame.
struct Tone {
  float f0_hz = 0;    ///< at the frame's middle
  float clarity = 0;  ///< share that the tone's harmonics have of the power from 0.6 f0 up, 0 to 1
  std::array<float, harmonics_tracked> amplitude{};  ///< of harmonic 1, 2, ... (1 = full scale); 0 above the band
  std::array<float, harmonics_tracked> phase_rad{};  ///< of harmonic 1, 2, ... at the frame's middle
};

struct PitchFrame {
  std::optional<Tone> tone;
  float power_db = 0;  ///< of the whole frame from 75 Hz up, dB full scale
  float noise_db = 0;  ///< breath noise: power density between the harmonics, dB full scale per hertz
};

/// Frames of fixed length at a fixed hop; frame i is centred at first_s + i * hop_s.
struct PitchTrack {
  double first_s = 0;
  double hop_s = 0;
  double window_s = 0;  ///< length of the (Hann) window
  double working_rate_hz = 0;
  std::vector<PitchFrame> frames;

  double time_s(std::size_t frame) const { return first_s + static_cast<double>(frame) * hop_s; }
};

struct PitchRules {
  double min_hz = 150;   ///< well below a low whistle's G3, 196 Hz
  double max_hz = 7000;  ///< an octave above the highest notes: a note may slip into the next register
  double hop_s = 0.01;
  double window_s = 0.048;
  OctaveModel octave{};
};

/// Follows the pitch through a recording and gives the track in chapters of ten minutes or a little more, so that
/// memory does not grow with the take: each is cut in the longest time without a tone about its end.
class PitchTracker {
 public:
  /// `recording` must outlive the tracker.
  PitchTracker(Recording& recording, const PitchRules& rules);
  ~PitchTracker();

  /// Empty at the end of the recording.
  std::optional<PitchTrack> next_chapter();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// Follows the pitch through samples at the working rate that are in memory.
PitchTrack track_pitch(std::span<const float> samples, double working_rate_hz, const PitchRules& rules);

}  // namespace windway
