// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/in_step.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <numeric>

namespace windway {

namespace {
constexpr double in_step_correlation = 0.9;  // rho, of a harmonic's amplitudes in a room
constexpr double heard_at_most = 0.7;        // how often a harmonic is heard at all, were there no noise
constexpr double faint = 0.01;               // of the tone's power: half of the harmonics are fainter
constexpr double foreign = 0.1;              // how often another sound covers a harmonic that is too weak to be heard
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

/// Log likelihood of a harmonic being at this order of the strongest line.
double log_likelihood_at(double order, std::span<const ToneFrame> frames, double bin_hz, double noise_power,
                         double audible) {
  const auto amplitude_in = [&](const ToneFrame& frame) -> std::complex<double> {
    const auto& amplitude = frame.spectrum->amplitude;
    return amplitude[std::min(nearest_bin(order * frame.hz / bin_hz), amplitude.size() - 1)];
  };
  const auto n = static_cast<int>(frames.size());
  const std::complex<double> now = amplitude_in(frames.front());
  double power_before = 0;
  for (const ToneFrame& frame : frames.subspan(1)) power_before += std::norm(amplitude_in(frame));
  const double power = std::norm(now) + power_before;
  const double over_noise = 1.0 - 2.0 * noise_power * n / power;
  if (!(over_noise > 0)) return of_its_own * std::log(1.0 - audible);
  std::complex<double> before = 0;
  for (const ToneFrame& frame : frames.subspan(1)) {
    const double turns = order * frame.since_rad / (2.0 * std::numbers::pi);
    const auto whole_turns = static_cast<double>(static_cast<std::ptrdiff_t>(turns));
    const auto rest_rad = static_cast<float>(2.0 * std::numbers::pi * (turns - whole_turns));
    before += amplitude_in(frame) * std::complex<double>(std::polar(1.0F, rest_rad));
  }
  const double rho = in_step_correlation * over_noise;
  const double in_step =
      n > 1 ? likelihood_ratio(before + now, power, rho, n) / likelihood_ratio(before, power_before, rho, n - 1) : 1.0;
  return of_its_own *
         std::log((1.0 - audible) * (1.0 - over_noise) + over_noise * (audible * in_step + foreign * (1.0 - audible)));
}

}  // namespace

OfEachPart<double> log_likelihoods(std::span<const ToneFrame> frames, double bin_hz, double top_hz,
                                   double noise_power) {
  const double line_hz = frames.front().hz;
  const double tone_power = frames.front().spectrum->power[nearest_bin(line_hz / bin_hz)];
  const double floor_power = noise_power + sidelobes * tone_power;
  const double audible = heard_at_most * tone_power / (tone_power + floor_power / faint);
  OfEachPart<double> logs{};
  std::array<OfEachPart<double>, highest_harmonic> of_line{};  // [harmonic - 1][divisor - 1], in lowest terms
  for (int divisor = 2; divisor <= highest_harmonic; ++divisor) {
    for (int k = 1; k <= highest_harmonic && k * line_hz < top_hz * divisor; ++k) {
      if (k % divisor == 0) continue;
      const int common = std::gcd(k, divisor);
      double& log = of_line[static_cast<std::size_t>(k / common - 1)][static_cast<std::size_t>(divisor / common - 1)];
      if (common == 1) log = log_likelihood_at(static_cast<double>(k) / divisor, frames, bin_hz, floor_power, audible);
      logs[static_cast<std::size_t>(divisor - 1)] += log;
    }
  }
  return logs;
}

}  // namespace windway
