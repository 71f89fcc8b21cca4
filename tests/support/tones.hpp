// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/random.hpp"

namespace windway::synthesis {

inline constexpr double tone_rate_hz = 24000.0;  ///< unless said

/// A plain tone for unit tests: what the ear hears is only what is written here.
struct ToneSpec {
  double rate_hz = tone_rate_hz;
  double duration_s = 1.0;
  double f0_hz = 587.3295;                                     ///< D5 at A4 = 440 Hz
  std::vector<double> harmonic_amplitudes = {0.4, 0.1, 0.05};  ///< of harmonic 1, 2, ...; 1 is full scale
  double start_cycles = 0.1;                                   ///< phase of the fundamental at sample 0
};

/// f0 constant; harmonics at or above half the rate are left out.
std::vector<float> steady_tone(const ToneSpec& spec);
/// f0 moves evenly in cents from spec.f0_hz at the first sample to `end_cents` above it at the last.
std::vector<float> glide_tone(const ToneSpec& spec, double end_cents);
/// f0 swings by +- depth_cents; its mean in cents over whole vibrato periods is spec.f0_hz.
std::vector<float> vibrato_tone(const ToneSpec& spec, double vibrato_hz, double depth_cents);

std::vector<float> silence(double rate_hz, double duration_s);
/// Adds white noise whose whole power lies `snr_db` under the mean power of `samples`.
void add_white_noise(std::vector<float>& samples, double snr_db, Random& random);
/// One after the other, without a gap.
std::vector<float> joined(const std::vector<std::vector<float>>& parts);
std::vector<float> to_float(const std::vector<double>& samples);

}  // namespace windway::synthesis
