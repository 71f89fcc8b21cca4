// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/in_step.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>

#include "pitch/noise_power.hpp"

namespace windway {

namespace {
constexpr double sidelobes = 1e-5;  // of the tone's power: what its window leaves beside it

using Complex = std::complex<float>;

/// How many times likelier n amplitudes are for a line that keeps step; `sum` is theirs, `power` that of their squares.
double likelihood_ratio(Complex sum, double power, double rho, int n) {
  const double kappa = std::min(1.0, static_cast<double>(std::norm(sum)) / (n * power));
  const double along = 1.0 / (1.0 + (n - 1) * rho);
  const double across = 1.0 / (1.0 - rho);
  const double per_frame = across / (along * kappa + across * (1.0 - kappa));
  double ratio = along / across;
  for (int i = 0; i < n; ++i) ratio *= per_frame;
  return ratio;
}

using Amplitudes = std::array<Complex, most_frames>;

/// Of finite numbers: without the case of infinite ones.
Complex product(Complex a, Complex b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// 1 over the tone's amplitude in a frame: a harmonic rises and falls with its tone, and so does the breath noise.
double per_tone_amplitude(const ToneFrame& frame, double bin_hz) {
  const auto& power = frame.spectrum->power;
  const double tone_power = power[std::min(nearest_bin(frame.hz / bin_hz), power.size() - 1)];
  return 1.0 / std::sqrt(2.0 * std::max(tone_power, static_cast<double>(silence_power)));
}

/// What is the same for all harmonics.
struct ToneView {
  std::span<const ToneFrame> frames;
  const OctaveModel& model;
  double bin_hz = 0;
  double noise_share = 0;  ///< noise power of a bin against the strongest line's
  double audible = 0;      ///< how often a harmonic is heard
  Amplitudes scale{};      ///< by frame: 1 over the tone's amplitude
};

/// Likelihoods of a harmonic against those of another sound in its place.
struct OfHarmonic {
  double by_phase = 1.0, by_level = 1.0;
};

/// From its amplitudes relative to the strongest line, turned to the newest frame, which comes first.
OfHarmonic likelihoods_of(const Amplitudes& amplitudes, const ToneView& tone) {
  const auto n = static_cast<int>(tone.frames.size());
  Complex before = 0;
  float power_before = 0;
  for (std::size_t i = 1; i < tone.frames.size(); ++i) {
    before += amplitudes[i];
    power_before += std::norm(amplitudes[i]);
  }
  const double power = static_cast<double>(std::norm(amplitudes[0])) + power_before;
  const double over_noise = 1.0 - tone.noise_share * n / power;
  if (!(over_noise > 0)) return {1.0 - tone.audible, 1.0};
  const double rho = tone.model.in_step_correlation * over_noise;
  const double in_step = n > 1 ? likelihood_ratio(before + amplitudes[0], power, rho, n) /
                                     likelihood_ratio(before, power_before, rho, n - 1)
                               : 1.0;
  const double heard = over_noise * (tone.audible * in_step + tone.model.foreign * (1.0 - tone.audible));
  const double share_fainter = power / (power + n * tone.model.faint);  // of all harmonics
  return {(1.0 - tone.audible) * (1.0 - over_noise) + heard, 1.0 - over_noise * (1.0 - share_fainter)};
}

/// Log likelihood of this part of the strongest line's pitch being the fundamental, against that of the whole.
double log_likelihood_of_part(int divisor, const ToneView& tone, double top_hz) {
  Amplitudes turn{1.0F}, turned = tone.scale;
  for (std::size_t i = 1; i < tone.frames.size(); ++i)
    turn[i] = Complex(std::polar(1.0, tone.frames[i].since_rad / divisor));
  OfHarmonic all;
  for (int k = 1; k <= highest_harmonic && k * tone.frames.front().hz < top_hz * divisor; ++k) {
    for (std::size_t i = 0; i < tone.frames.size(); ++i) turned[i] = product(turned[i], turn[i]);
    if (k % divisor == 0) continue;
    Amplitudes amplitudes{};
    for (std::size_t i = 0; i < tone.frames.size(); ++i) {
      const auto& amplitude = tone.frames[i].spectrum->amplitude;
      const std::size_t bin = nearest_bin(k * tone.frames[i].hz / (divisor * tone.bin_hz));
      amplitudes[i] = product(amplitude[std::min(bin, amplitude.size() - 1)], turned[i]);
    }
    const OfHarmonic harmonic = likelihoods_of(amplitudes, tone);
    all.by_phase *= harmonic.by_phase;
    all.by_level *= harmonic.by_level;
  }
  return tone.model.phase_weight * std::log(all.by_phase) + tone.model.level_weight * std::log(all.by_level);
}

}  // namespace

OfEachPart<double> log_likelihoods(std::span<const ToneFrame> frames, const OctaveModel& model, double bin_hz,
                                   double top_hz, double noise_power) {
  const double line_hz = frames.front().hz;
  const double tone_power = std::max(frames.front().spectrum->power[nearest_bin(line_hz / bin_hz)], silence_power);
  const double floor_power = noise_power + sidelobes * tone_power;
  const double audible = model.heard_at_most * tone_power / (tone_power + floor_power / model.faint);
  ToneView tone{frames, model, bin_hz, floor_power / tone_power, audible, {}};
  for (std::size_t i = 0; i < frames.size(); ++i)
    tone.scale[i] = static_cast<float>(per_tone_amplitude(frames[i], bin_hz));
  OfEachPart<double> logs{};
  for (int divisor = 2; divisor <= highest_harmonic; ++divisor)
    logs[static_cast<std::size_t>(divisor - 1)] = log_likelihood_of_part(divisor, tone, top_hz);
  return logs;
}

}  // namespace windway
