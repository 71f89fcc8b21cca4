// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// How a frequency moves: white noise of these powers drives it or its slope.
struct FrequencyWander {
  double frequency = 0;  ///< (rad/s)^2 per second
  double slope = 0;      ///< (rad/s^2)^2 per second
  bool has_slope = false;
};

/// What is known of phase, frequency and slope before the first frame: variances in rad^2, (rad/s)^2, (rad/s^2)^2.
inline constexpr double start_phase_rad2 = 10.0;     ///< about the first one read
inline constexpr double start_frequency_rad2 = 1e5;  ///< +- 50 Hz about the reference
inline constexpr double start_slope_rad2 = 1e8;      ///< a wide vibrato's

/// Covariance of phase, frequency and slope: pf that of phase with frequency.
struct StateCovariance {
  double pp = 0, pf = 0, ps = 0, ff = 0, fs = 0, ss = 0;
};

/// What phase, frequency and slope gain in one hop: the integral of the noise that drives them.
StateCovariance growth_in_hop(const FrequencyWander& wander, double hop_s);

/// A phase read through a Hann window is that at its middle and this much of its second derivative: half the variance
/// of the window taken as a density.
double slope_seen_s2(double window_s);

/// The wander that makes the phases of one span most likely, to half a decade; empty where a steady tone does as well.
/// `noise_rad2`: of each phase, as of independent ones.
std::optional<FrequencyWander> likeliest_wander(const std::vector<double>& phase_rad, double noise_rad2, double hop_s,
                                                double window_s);

}  // namespace windway
