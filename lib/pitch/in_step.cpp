// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/in_step.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <numeric>

#include "pitch/noise_power.hpp"

namespace windway {

namespace {
constexpr double in_step_correlation = 0.9;  // rho, of a harmonic's amplitudes in a room
constexpr double heard_at_most = 0.7;        // how often a harmonic is heard at all, were there no noise
constexpr double faint = 0.01;               // of the tone's power: half of the harmonics are fainter
constexpr double foreign = 0.3;              // how often another sound covers a harmonic that is too weak to be heard
constexpr double sidelobes = 1e-5;           // of the tone's power: what its window leaves beside it
// Windows at the hop share samples: 5 of them are as good as one, those of a tone that stands still a little better.
constexpr double of_its_own = 0.4;

/// How many times likelier n amplitudes are for a line that keeps step; `sum` is theirs, `power` that of their squares.
double likelihood_ratio(std::complex<double> sum, double power, double rho, int n) {
  const double kappa = std::min(1.0, std::norm(sum) / (n * power));
  const double along = 1.0 / (1.0 + (n - 1) * rho);
  const double across = 1.0 / (1.0 - rho);
  const double per_frame = across / (along * kappa + across * (1.0 - kappa));
  double ratio = along / across;
  for (int i = 0; i < n; ++i) ratio *= per_frame;
  return ratio;
}

using Amplitudes = std::array<std::complex<double>, most_frames>;

/// 1 over the tone's amplitude in a frame: a harmonic rises and falls with its tone, and so does the breath noise.
double per_tone_amplitude(const ToneFrame& frame, double bin_hz) {
  const auto& power = frame.spectrum->power;
  const double tone_power = power[std::min(nearest_bin(frame.hz / bin_hz), power.size() - 1)];
  return 1.0 / std::sqrt(2.0 * std::max(tone_power, static_cast<double>(silence_power)));
}

/// Amplitudes at this order of the strongest line, relative to that line, turned to the frame in question.
Amplitudes amplitudes_at(double order, std::span<const ToneFrame> frames, double bin_hz) {
  Amplitudes amplitudes{};
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const auto& amplitude = frames[i].spectrum->amplitude;
    const double turns = order * frames[i].since_rad / (2.0 * std::numbers::pi);
    const auto whole_turns = static_cast<double>(static_cast<std::ptrdiff_t>(turns));
    const auto rest_rad = static_cast<float>(2.0 * std::numbers::pi * (turns - whole_turns));
    amplitudes[i] =
        std::complex<double>(amplitude[std::min(nearest_bin(order * frames[i].hz / bin_hz), amplitude.size() - 1)] *
                             std::polar(static_cast<float>(per_tone_amplitude(frames[i], bin_hz)), rest_rad));
  }
  return amplitudes;
}

/// Log likelihood of a harmonic being at this order of the strongest line; `noise_share` is the noise power of a bin
/// against the line's.
double log_likelihood_at(double order, std::span<const ToneFrame> frames, double bin_hz, double noise_share,
                         double audible) {
  const auto n = static_cast<int>(frames.size());
  const Amplitudes amplitudes = amplitudes_at(order, frames, bin_hz);
  std::complex<double> before = 0;
  double power_before = 0;
  for (std::size_t i = 1; i < frames.size(); ++i) {
    before += amplitudes[i];
    power_before += std::norm(amplitudes[i]);
  }
  const double power = std::norm(amplitudes[0]) + power_before;
  const double over_noise = 1.0 - noise_share * n / power;
  if (!(over_noise > 0)) return of_its_own * std::log(1.0 - audible);
  const double rho = in_step_correlation * over_noise;
  const double in_step = n > 1 ? likelihood_ratio(before + amplitudes[0], power, rho, n) /
                                     likelihood_ratio(before, power_before, rho, n - 1)
                               : 1.0;
  return of_its_own *
         std::log((1.0 - audible) * (1.0 - over_noise) + over_noise * (audible * in_step + foreign * (1.0 - audible)));
}

}  // namespace

OfEachPart<double> log_likelihoods(std::span<const ToneFrame> frames, double bin_hz, double top_hz,
                                   double noise_power) {
  const double line_hz = frames.front().hz;
  const double tone_power = std::max(frames.front().spectrum->power[nearest_bin(line_hz / bin_hz)], silence_power);
  const double floor_power = noise_power + sidelobes * tone_power;
  const double audible = heard_at_most * tone_power / (tone_power + floor_power / faint);
  const double noise_share = floor_power / tone_power;
  OfEachPart<double> logs{};
  std::array<OfEachPart<double>, highest_harmonic> of_line{};  // [harmonic - 1][divisor - 1], in lowest terms
  for (int divisor = 2; divisor <= highest_harmonic; ++divisor) {
    for (int k = 1; k <= highest_harmonic && k * line_hz < top_hz * divisor; ++k) {
      if (k % divisor == 0) continue;
      const int common = std::gcd(k, divisor);
      double& log = of_line[static_cast<std::size_t>(k / common - 1)][static_cast<std::size_t>(divisor / common - 1)];
      if (common == 1) log = log_likelihood_at(static_cast<double>(k) / divisor, frames, bin_hz, noise_share, audible);
      logs[static_cast<std::size_t>(divisor - 1)] += log;
    }
  }
  return logs;
}

}  // namespace windway
