// SPDX-License-Identifier: GPL-3.0-or-later
#include "played_tone.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/find_holds.hpp"
#include "support/noise.hpp"
#include "units/units.hpp"

namespace windway::test {
namespace {

constexpr double silence_s = 0.5;

struct Curves {
  std::vector<double> cents;
  std::vector<double> level;
};

/// The pitch steps; the level moves by at most 1 in ramp_s.
Curves curves_of(const PlayedTone& tone, const std::vector<Stretch>& stretches) {
  std::vector<Stretch> all = stretches;
  all.insert(all.begin(), {silence_s, stretches.front().cents, 0.0});
  all.push_back({silence_s, stretches.back().cents, 0.0});
  Curves curves;
  double level = 0.0;
  const double most = 1.0 / (tone.ramp_s * tone.rate_hz);
  for (const Stretch& stretch : all) {
    for (auto left = std::lround(stretch.duration_s * tone.rate_hz); left > 0; --left) {
      level += std::clamp(stretch.level - level, -most, most);
      curves.cents.push_back(stretch.cents);
      curves.level.push_back(level);
    }
  }
  return curves;
}

}  // namespace

std::vector<float> played(const PlayedTone& tone, const std::vector<Stretch>& stretches, std::uint64_t seed) {
  synthesis::Random random(seed);
  const Curves curves = curves_of(tone, stretches);
  const auto breath = synthesis::breath_noise(curves.level.size(), tone.rate_hz, random);
  const double breath_gain = amplitude_from_db(tone.breath_db) * tone.amplitude / std::numbers::sqrt2;
  std::vector<float> samples;
  double cycles = 0.0;
  for (std::size_t i = 0; i < curves.level.size(); ++i) {
    cycles += hz_at_cents(tone.f0_hz, curves.cents[i]) / tone.rate_hz;
    double sound = breath_gain * breath[i];
    for (const int k : {1, 2, 3}) {
      sound += tone.amplitude * std::pow(0.3, k - 1) * std::sin(2.0 * std::numbers::pi * k * cycles);
    }
    const double floor = random.normal(0.0, amplitude_from_db(tone.floor_db));
    samples.push_back(static_cast<float>(curves.level[i] * sound + floor));
  }
  return samples;
}

std::vector<Hold> holds_in(const std::vector<float>& samples, double rate_hz, const HoldRules& rules) {
  return find_holds(track_pitch(samples, rate_hz, {}), rules);
}

}  // namespace windway::test
