// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"
#include "pitch/spectrum.hpp"
#include "pitch/undertone.hpp"

namespace windway {

/// Finds the tone of one spectrum after another. Each is judged alone first. Then the frames around it vote: where most
/// of them heard the note an octave or a twelfth away, and that pitch explains the spectrum too, theirs is taken.
/// Breath noise rings at half an overblown note's pitch and may pass for its fundamental in a frame; echoes in a room
/// may wipe out a fundamental for a while. Last, a pitch whose half, third, ... keeps step with it is a harmonic of a
/// fundamental weaker than itself.
class ToneFinder {
 public:
  ToneFinder(double bin_hz, const PitchRules& rules) : bin_hz_(bin_hz), rules_(rules) {}

  /// Takes the next spectrum; appends the frames that are ready: they come some frames late, for the vote. Gives room
  /// for another spectrum, used before where there is one.
  SpectrumFrame push(SpectrumFrame spectrum, std::vector<PitchFrame>& frames);
  /// Appends the frames still waiting at the end of the recording.
  void finish(std::vector<PitchFrame>& frames);

 private:
  struct Judged {
    SpectrumFrame spectrum;
    double noise_power = 0;  ///< in a bin
    double total_power = 0;
    std::optional<double> alone_hz;
    double fundamental_share = 0;   ///< of the power that alone_hz explains
    std::size_t steady_frames = 0;  ///< in a row up to this one, over each of which alone_hz hardly changed
  };
  std::size_t steady_frames_with(const std::optional<double>& hz) const;
  void judge_alone(Judged& judged);
  PitchFrame next_frame();
  double voted_hz(std::size_t index) const;
  double fundamental_of(double voted_hz);
  std::vector<HeardFrame> note_at_next(double doubted_hz) const;
  bool octave_explains_next(double voted_hz) const;
  double undertone_at_next(double doubted_hz) const;
  double multiple_at_next(double voted_hz) const;

  double bin_hz_;
  PitchRules rules_;
  std::deque<Judged> judged_;   // those before the next frame due, that frame, and those after it
  std::vector<double> heard_;   // their alone_hz, 0 for none: side by side, since every frame looks at many
  std::size_t next_index_ = 0;  // of the next frame due, in judged_
  int since_searched_ = 0;      // frames since all fundamentals were tried
  double multiple_ = 1;         // of the pitch voted for, of late: the fundamental
  double multiple_of_hz_ = 0;   // that pitch
  int since_multiple_ = 0;      // frames since the multiple was found
};

}  // namespace windway
