// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <deque>
#include <vector>

#include "pitch/in_step.hpp"
#include "pitch/pitch_track.hpp"
#include "pitch/spectrum.hpp"

namespace windway {

/// Finds the tone of one spectrum after another. The strongest line of a frame is one of its tone's first six
/// harmonics: which one is decided for the unbroken tone, by the path of highest likelihood (Viterbi) through the
/// frames. What a frame says is log_likelihoods; another fundamental within the tone costs a slip of the register.
class ToneFinder {
 public:
  ToneFinder(double bin_hz, const PitchRules& rules) : bin_hz_(bin_hz), rules_(rules) {}

  /// Takes the next spectrum; appends the frames that are decided: they come some frames late. Gives room for another
  /// spectrum, used before where there is one.
  SpectrumFrame push(SpectrumFrame spectrum, std::vector<PitchFrame>& frames);
  /// Appends the frames still waiting at the end of the recording.
  void finish(std::vector<PitchFrame>& frames);

 private:
  struct Heard {
    SpectrumFrame spectrum;
    double noise_power = 0;  ///< in a bin
    double total_power = 0;
    double line_hz = 0;                   ///< the strongest line; 0 for none
    double order = 1;                     ///< of that line, the tone's first strongest line being 1
    double phase_rad = 0;                 ///< of the tone's first strongest line since its first frame, unwrapped
    std::size_t age = 0;                  ///< frames of the tone before this one
    OfEachPart<double> log_likelihood{};  ///< of the best path to each divisor of the line's pitch
    OfEachPart<std::size_t> from{};       ///< on that path the divisor before, less 1
  };
  Heard heard(SpectrumFrame spectrum) const;
  void follow(Heard& next) const;
  bool sounds_on(const Heard& then, const Heard& next) const;
  OfEachPart<double> evidence(const Heard& next) const;
  double power_ratio(const Heard& next) const;
  void extend_paths(Heard& next) const;
  void decide(std::size_t count, std::vector<PitchFrame>& frames);
  PitchFrame frame_of(const Heard& decided, double f0_hz) const;

  double bin_hz_;
  PitchRules rules_;
  std::deque<Heard> heard_;  // undecided, and some before them
  std::size_t decided_ = 0;
  std::vector<SpectrumFrame> used_;
};

}  // namespace windway
