// SPDX-License-Identifier: GPL-3.0-or-later
#include "drone/drone.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "analysis/measured_take.hpp"

namespace windway {
namespace {

std::vector<double> sound_of(const DroneSettings& settings) {
  DroneSound sound(settings);
  std::vector<double> all, block(1000);
  while (const std::size_t count = sound.read(block))
    all.insert(all.end(), block.begin(), block.begin() + static_cast<long>(count));
  return all;
}

double peak_of(const std::vector<double>& samples) {
  double peak = 0;
  for (const double sample : samples) peak = std::max(peak, std::abs(sample));
  return peak;
}

TEST(Drone, IsReadBackAtItsFrequencyWithinAHundredthOfACent) {
  for (const double hz : {196.0, 441.3, 587.33, 1174.659, 2349.3}) {
    const std::vector<double> sound = sound_of({.frequency_hz = hz, .duration_s = 4.0});
    const Measurement measurement = test::measured({sound.begin(), sound.end()}, 48000, MeasureSettings{});
    ASSERT_EQ(measurement.naming.holds.size(), 1U) << hz;
    EXPECT_NEAR(cents_between(hz, measurement.naming.holds[0].hold.frequency_hz), 0.0, 0.01) << hz;
  }
}

TEST(Drone, NeverGoesBeyondItsPeakAndComesNearIt) {
  for (const double hz : {30.0, 261.6, 587.33, 3000.0, 9000.0}) {
    const double peak = peak_of(sound_of({.frequency_hz = hz, .duration_s = 1.0}));
    EXPECT_LE(peak, 0.2501) << hz;
    EXPECT_GT(peak, 0.24) << hz;
  }
}

TEST(Drone, SetsInAndEndsWithoutAClick) {
  const std::vector<double> sound = sound_of({.frequency_hz = 587.33, .duration_s = 1.0});
  EXPECT_EQ(sound.size(), 48000U);
  EXPECT_EQ(sound.front(), 0.0);
  EXPECT_EQ(sound.back(), 0.0);
  double first_ms = 0, last_ms = 0;
  for (std::size_t i = 0; i < 48; ++i) {
    first_ms = std::max(first_ms, std::abs(sound[i]));
    last_ms = std::max(last_ms, std::abs(sound[sound.size() - 1 - i]));
  }
  EXPECT_LT(first_ms, 0.001);
  EXPECT_LT(last_ms, 0.001);
}

TEST(Drone, OfAHighNoteHasNothingAboveHalfTheRate) {
  // A harmonic beyond it would come back as a false one: the sum over the period would not be 0 in pieces of a period.
  const std::vector<double> sound = sound_of({.frequency_hz = 9000.0, .duration_s = 1.0, .rate_hz = 48000.0});
  double energy_off_tone = 0;
  double re = 0, im = 0;
  for (std::size_t i = 4800; i < 43200; ++i) {  // whole periods
    re += sound[i] * std::cos(2 * M_PI * 9000.0 * static_cast<double>(i) / 48000.0);
    im += sound[i] * std::sin(2 * M_PI * 9000.0 * static_cast<double>(i) / 48000.0);
    energy_off_tone += sound[i] * sound[i];
  }
  EXPECT_NEAR((re * re + im * im) * 2.0 / 38400.0, energy_off_tone, 1e-6 * energy_off_tone);
}

}  // namespace
}  // namespace windway
