// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/mean_frequency.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "holds/room.hpp"
#include "holds/smoothed_phase.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

struct Combined {
  std::vector<double> phase_rad;
  double noise_rad2 = 0;  ///< of one frame
  double room_rad2 = 0;   ///< of the gain over the span
};

Combined combined_phase(const PhaseCurves& curves, double room_rad2) {
  const HarmonicTrust trust = harmonic_trust(harmonic_gains(curves), room_rad2);
  Combined combined;
  combined.phase_rad.assign(curves.frames, 0.0);
  combined.room_rad2 = trust.variance_rad2;
  const double weights = std::accumulate(trust.weight.begin(), trust.weight.end(), 0.0);
  for (std::size_t k = 0; k < curves.harmonics.size(); ++k) {
    const auto& h = curves.harmonics[k];
    const double weight = trust.weight[k] / weights;
    for (std::size_t i = 0; i < curves.frames; ++i) combined.phase_rad[i] += weight * h.phase_rad[i];
    combined.noise_rad2 += weight * weight * h.variance_rad2 / (h.number * h.number);
  }
  return combined;
}

constexpr double least_noise_rad2 = 1e-10;

}  // namespace

MeanFrequency mean_frequency(const PhaseCurves& curves, double room_rad2) {
  const Combined combined = combined_phase(curves, room_rad2);
  const PhaseNoise noise{std::max(combined.noise_rad2, least_noise_rad2), curves.hop_s, curves.window_s};
  const PhaseGain gain = smoothed_phase(combined.phase_rad, noise);
  const double duration_s = static_cast<double>(curves.frames - 1) * curves.hop_s;
  MeanFrequency mean;
  mean.hz = curves.reference_hz + gain.rad / (full_turn_rad * duration_s);
  mean.sd_hz = std::sqrt(gain.variance_rad2 + combined.room_rad2) / (full_turn_rad * duration_s);
  for (const double rad_s : gain.curve_rad_s) mean.curve_hz.push_back(curves.reference_hz + rad_s / full_turn_rad);
  return mean;
}

}  // namespace windway
