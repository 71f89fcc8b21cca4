// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "support/noise.hpp"

namespace windway::synthesis {
namespace {

/// A formant: a two-pole resonance of the vocal tract.
class Resonance {
 public:
  Resonance(double centre_hz, double width_hz, double rate_hz) {
    const double radius = std::exp(-std::numbers::pi * width_hz / rate_hz);
    a1_ = 2.0 * radius * std::cos(2.0 * std::numbers::pi * centre_hz / rate_hz);
    a2_ = -radius * radius;
  }
  double operator()(double x) {
    const double y = (1.0 - a1_ - a2_) * x + a1_ * y1_ + a2_ * y2_;
    y2_ = y1_;
    return y1_ = y;
  }

 private:
  double a1_ = 0.0, a2_ = 0.0, y1_ = 0.0, y2_ = 0.0;
};

// First, second and third formants of five vowels, rounded (from memory, after Peterson and Barney 1952).
constexpr std::array<std::array<double, 3>, 5> vowels_hz = {
    {{730, 1090, 2440}, {530, 1840, 2480}, {270, 2290, 3010}, {570, 840, 2410}, {300, 870, 2240}}};

void append_voiced(std::vector<double>& out, double rate_hz, double pitch_hz, Random& random) {
  const auto& vowel = vowels_hz[static_cast<std::size_t>(random.uniform(0.0, 5.0))];
  Resonance first(vowel[0], 80.0, rate_hz), second(vowel[1], 100.0, rate_hz), third(vowel[2], 140.0, rate_hz);
  const auto count = static_cast<std::size_t>(random.uniform(0.10, 0.22) * rate_hz);
  const double glide = random.uniform(-0.35, 0.15);  // octaves over the syllable: mostly falling
  double cycle = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const double u = static_cast<double>(i) / static_cast<double>(count);
    cycle += pitch_hz * std::exp2(glide * u) / rate_hz;
    const bool pulse = cycle >= 1.0;
    cycle -= pulse ? 1.0 : 0.0;
    const double source = (pulse ? 1.0 : 0.0) + random.normal(0.0, 0.01);
    out.push_back(std::sin(std::numbers::pi * u) * third(second(first(source))));
  }
}

void append_hiss(std::vector<double>& out, double rate_hz, double level, Random& random) {
  const auto count = static_cast<std::size_t>(random.uniform(0.04, 0.09) * rate_hz);
  double last = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const double now = random.normal(0.0, level);
    const double u = static_cast<double>(i) / static_cast<double>(count);
    out.push_back(std::sin(std::numbers::pi * u) * (now - last));
    last = now;
  }
}

}  // namespace

std::vector<double> babble(double duration_s, double rate_hz, Random& random) {
  const auto count = static_cast<std::size_t>(duration_s * rate_hz);
  std::vector<double> out;
  double pitch_hz = random.uniform(105.0, 210.0);
  while (out.size() < count) {
    append_voiced(out, rate_hz, pitch_hz * random.uniform(0.85, 1.2), random);
    if (random.chance(0.4)) append_hiss(out, rate_hz, 0.002, random);
    if (random.chance(0.25)) out.resize(out.size() + static_cast<std::size_t>(0.06 * rate_hz));
    pitch_hz *= 0.985;  // a sentence falls towards its end
  }
  out.resize(count);
  double peak = 1e-12;
  for (const double x : out) peak = std::max(peak, std::abs(x));
  for (double& x : out) x /= peak;
  return out;
}

}  // namespace windway::synthesis
