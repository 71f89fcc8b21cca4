// SPDX-License-Identifier: GPL-3.0-or-later
#include "external/long_spectrum.hpp"

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

namespace windway::external_tests {
namespace {

std::vector<double> hann_windowed(std::span<const float> samples) {
  std::vector<double> windowed;
  const double step_rad = 2 * std::numbers::pi / static_cast<double>(samples.size());
  for (const float sample : samples)
    windowed.push_back(sample * (1.0 - std::cos(step_rad * (static_cast<double>(windowed.size()) + 0.5))));
  return windowed;
}

double power_at(const std::vector<double>& windowed, double cycles_per_sample) {
  const std::complex<double> turn = std::polar(1.0, -2 * std::numbers::pi * cycles_per_sample);
  std::complex<double> phasor = 1.0;
  std::complex<double> sum = 0.0;
  for (const double sample : windowed) {
    sum += sample * phasor;
    phasor *= turn;
  }
  return std::norm(sum);
}

/// Where the power is highest between two frequencies that hold one peak; by golden section.
double peak_between(const std::vector<double>& windowed, double low, double high) {
  constexpr int steps = 40;  // 0.618^40 of the span: far below a thousandth of a cent
  const double golden = 1 / std::numbers::phi;
  for (int step = 0; step < steps; ++step) {
    const double lower = high - golden * (high - low);
    const double upper = low + golden * (high - low);
    const bool peak_is_above = power_at(windowed, lower) < power_at(windowed, upper);
    (peak_is_above ? low : high) = peak_is_above ? lower : upper;
  }
  return 0.5 * (low + high);
}

}  // namespace

double spectral_peak_hz(std::span<const float> samples, double rate_hz, double near_hz, double near_cents) {
  const std::vector<double> windowed = hann_windowed(samples);
  const double ratio = std::exp2(near_cents / 1200);
  const double step = 0.5 / static_cast<double>(samples.size());  // half a bin: a Hann peak is four bins wide
  double best = 0;
  double best_power = -1;
  for (double at = near_hz / ratio / rate_hz; at < near_hz * ratio / rate_hz; at += step) {
    const double power = power_at(windowed, at);
    if (power <= best_power) continue;
    best_power = power;
    best = at;
  }
  return rate_hz * peak_between(windowed, best - step, best + step);
}

}  // namespace windway::external_tests
