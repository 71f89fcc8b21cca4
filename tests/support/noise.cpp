// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/noise.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace windway::synthesis {
namespace {

constexpr double wander_step_s = 0.004;

void scale_to_rms(std::vector<double>& samples, double wanted) {
  const double now = rms(samples);
  if (now <= 0.0) return;
  for (double& x : samples) x *= wanted / now;
}

void low_pass(std::vector<double>& samples, double rate_hz, double corner_hz) {
  const double keep = std::exp(-2.0 * std::numbers::pi * corner_hz / rate_hz);
  double state = 0.0;
  for (double& x : samples) x = state = keep * state + (1.0 - keep) * x;
}

void high_pass(std::vector<double>& samples, double rate_hz, double corner_hz) {
  std::vector<double> low = samples;
  low_pass(low, rate_hz, corner_hz);
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] -= low[i];
}

}  // namespace

double rms(const std::vector<double>& samples) {
  if (samples.empty()) return 0.0;
  double power = 0.0;
  for (const double x : samples) power += x * x;
  return std::sqrt(power / static_cast<double>(samples.size()));
}

std::vector<double> white_noise(std::size_t count, double sd, Random& random) {
  std::vector<double> out(count);
  for (double& x : out) x = random.normal(0.0, sd);
  return out;
}

// Low-passed noises of equal power, their corners an octave apart, add up to a straight 1/f slope.
std::vector<double> pink_noise(std::size_t count, double rate_hz, double sd, Random& random) {
  std::vector<double> sum(count, 0.0);
  for (double corner_hz = 10.0; corner_hz < 0.5 * rate_hz; corner_hz *= 2.0) {
    std::vector<double> octave = white_noise(count, 1.0 / std::sqrt(corner_hz), random);
    low_pass(octave, rate_hz, corner_hz);
    for (std::size_t i = 0; i < count; ++i) sum[i] += octave[i];
  }
  scale_to_rms(sum, sd);
  return sum;
}

std::vector<double> slow_wander(std::size_t count, double rate_hz, double memory_s, double sd, Random& random) {
  const double step = wander_step_s * rate_hz;
  const double keep = std::exp(-wander_step_s / memory_s);
  const double push = sd * std::sqrt(1.0 - keep * keep);
  double here = random.normal(0.0, sd);
  double next = keep * here + random.normal(0.0, push);
  double at = 0.0;  // samples since `here`
  std::vector<double> out(count);
  for (double& x : out) {
    if (at >= step) {
      at -= step;
      here = next;
      next = keep * here + random.normal(0.0, push);
    }
    x = here + (next - here) * at / step;
    at += 1.0;
  }
  return out;
}

std::vector<double> breath_noise(std::size_t count, double rate_hz, Random& random) {
  std::vector<double> out = white_noise(count, 1.0, random);
  high_pass(out, rate_hz, 600.0);
  high_pass(out, rate_hz, 600.0);
  low_pass(out, rate_hz, std::min(5000.0, 0.4 * rate_hz));
  low_pass(out, rate_hz, std::min(5000.0, 0.4 * rate_hz));
  scale_to_rms(out, 1.0);
  return out;
}

}  // namespace windway::synthesis
