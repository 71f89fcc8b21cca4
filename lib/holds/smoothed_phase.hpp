// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace windway {

/// Noise of a phase that is read from Hann windows at a fixed hop.
struct PhaseNoise {
  double frame_rad2 = 0;  ///< variance of one frame's phase
  double hop_s = 0;
  double window_s = 0;
};

/// The smoothed phases of a span.
struct PhaseGain {
  double rad = 0;  ///< from the first frame's middle to the last's
  double variance_rad2 = 0;
  std::vector<double> curve_rad_s;  ///< frequency at each frame
};

/// Smooths the phases of one span by the model that fits them best: a steady tone; a frequency that wanders at random;
/// or one whose slope does (a glide, a swell, a vibrato). How much it wanders is the most likely. A steady tone's gain
/// is the least squares one with the windows' overlap counted: its maximum likelihood. `phase_rad` holds two frames at
/// least. (Kalman filter and Rauch-Tung-Striebel smoother: Y. Bar-Shalom, X. R. Li and T. Kirubarajan, Estimation with
/// Applications to Tracking and Navigation (2001), chapters 5, 6 and 8.6; from memory.)
PhaseGain smoothed_phase(const std::vector<double>& phase_rad, const PhaseNoise& noise);

}  // namespace windway
