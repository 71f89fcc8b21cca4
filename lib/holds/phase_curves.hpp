// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "segmentation/frame_series.hpp"

namespace windway {

/// Phase of every harmonic over one span, each unwrapped, less the turns of a steady tone at reference_hz, and divided
/// by its number, so that all of them follow the fundamental.
struct PhaseCurves {
  double reference_hz = 0;
  double hop_s = 0;
  double window_s = 0;
  std::size_t frames = 0;
  struct Harmonic {
    int number = 1;
    double variance_rad2 = 0;  ///< of one frame's phase (before the division), from the breath noise
    std::vector<double> phase_rad;
  };
  std::vector<Harmonic> harmonics;  ///< those that stand clear of the noise
};

PhaseCurves phase_curves(const PitchTrack& track, const FrameSpan& span, double reference_hz);

/// Phase of the fundamental at each frame: mean of all harmonics, weighted by their inverse variance.
std::vector<double> mean_phase_rad(const PhaseCurves& curves);

/// The phase that each harmonic gains over the span, by itself.
struct HarmonicGain {
  int number = 1;
  double gain_rad = 0;       ///< of the fundamental, by this harmonic
  double variance_rad2 = 0;  ///< of number * gain_rad, from the breath noise
  std::size_t hops = 0;      ///< that the gain is over: the means of some frames at both ends
};

std::vector<HarmonicGain> harmonic_gains(const PhaseCurves& curves);

}  // namespace windway
