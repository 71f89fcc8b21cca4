// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/phase_curves.hpp"
#include "holds/segmentation.hpp"
#include "pitch/pitch_track.hpp"

namespace windway {

/// A steady tone as the frames within a span tell it.
struct SteadyTone {
  struct Harmonic {
    int number = 1;
    double amplitude = 0, phase_rad = 0;  ///< at at_s
    double curve_rad = 0;                 ///< there too, as the curves count it
    double variance_rad2 = 0;             ///< of one frame's phase
  };
  double hz = 0;
  double at_s = 0;  ///< the span's middle
  double window_s = 0;
  std::vector<Harmonic> harmonics;
  double frame_rad2 = 0;   ///< variance of the fundamental's phase as one frame tells it, by all harmonics together
  double phase_rad2 = 0;   ///< of the phase at at_s
  double slope_rad2 = 0;   ///< of the frequency, (rad/s)^2
  double chi_squared = 0;  ///< of the frames' phases about it, a degree of freedom

  double variance_rad2(double time_s) const { return phase_rad2 + slope_rad2 * (time_s - at_s) * (time_s - at_s); }
};

/// Least squares over the span; eight frames at least, so that it is worth anything.
SteadyTone steady_tone(const PitchTrack& track, const FrameSpan& span, const PhaseCurves& curves);

/// Do the frames differ from the steady tone by noise alone? Neighbouring ones do so together.
bool is_steady(const SteadyTone& tone, const PhaseCurves& curves);

}  // namespace windway
