// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/smoothed_phase.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "holds/frequency_wander.hpp"
#include "support/random.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double hop_s = 0.01;
constexpr double window_s = 0.048;
constexpr double pi = std::numbers::pi;

PhaseNoise noise_of(double sd_rad) { return {sd_rad * sd_rad, hop_s, window_s}; }

std::vector<double> line(std::size_t frames, double rad_s, double sd_rad, Random& random) {
  std::vector<double> phase_rad;
  for (std::size_t i = 0; i < frames; ++i) {
    phase_rad.push_back(rad_s * hop_s * static_cast<double>(i) + random.normal(0.0, sd_rad));
  }
  return phase_rad;
}

TEST(SmoothedPhase, ASteadyTonesGainIsThatOfItsLine) {
  Random random(1);
  const auto gain = smoothed_phase(line(50, 12.0, 1e-4, random), noise_of(1e-4));
  EXPECT_NEAR(gain.rad, 12.0 * 0.49, 4.0 * std::sqrt(gain.variance_rad2));
  for (const double rad_s : gain.curve_rad_s) EXPECT_DOUBLE_EQ(rad_s, gain.rad / 0.49);
}

// Two frames' windows do not overlap here, so the variance is that of a line through independent points: 12 / (n^3 - n)
// of one point's for a slope a step (any text on least squares).
TEST(SmoothedPhase, StatesTheVarianceOfALeastSquaresLine) {
  PhaseNoise noise = noise_of(0.01);
  noise.window_s = 0.009;
  Random random(2);
  const auto gain = smoothed_phase(line(40, 5.0, 0.01, random), noise);
  const double a_step_rad2 = 12.0 / (40.0 * 40.0 * 40.0 - 40.0) * 1e-4;
  EXPECT_NEAR(gain.variance_rad2, a_step_rad2 * 39.0 * 39.0, 0.03 * gain.variance_rad2);
}

/// What Hann windows show of a phase that swings as a vibrato: its swing less what the window evens out.
TEST(SmoothedPhase, UndoesWhatTheWindowEvensOutOfAVibrato) {
  constexpr double rate_hz = 5.5, depth_rad_s = 30.0;
  const double turn = 2.0 * pi * rate_hz;
  double seen = 0;  // the window's transform at the rate
  for (int i = 0; i < 1000; ++i) {
    const double u = (i + 0.5) / 1000.0 - 0.5;
    seen += (1.0 + std::cos(2.0 * pi * u)) * std::cos(turn * window_s * u) / 1000.0;
  }
  std::vector<double> phase_rad;
  for (int i = 0; i < 100; ++i) phase_rad.push_back(-seen * depth_rad_s / turn * std::cos(turn * hop_s * i));
  const auto gain = smoothed_phase(phase_rad, noise_of(1e-4));
  for (std::size_t i = 0; i < 100; ++i) {
    const double true_rad_s = depth_rad_s * std::sin(turn * hop_s * static_cast<double>(i));
    EXPECT_NEAR(gain.curve_rad_s[i], true_rad_s, 0.02 * depth_rad_s) << i;
  }
}

TEST(LikeliestWander, IsNoneForASteadyToneAndOfTheRightKindElse) {
  Random random(4);
  constexpr double noise_rad2 = 1e-6;
  EXPECT_FALSE(likeliest_wander(line(200, 3.0, 1e-3, random), noise_rad2, hop_s, window_s));
  std::vector<double> walk{0.0}, swell;
  double rad_s = 0;
  for (int i = 1; i < 200; ++i) {
    rad_s += random.normal(0.0, 0.5);
    walk.push_back(walk.back() + rad_s * hop_s);
  }
  for (int i = 0; i < 200; ++i) swell.push_back(3.0 * hop_s * i * hop_s * i + random.normal(0.0, 1e-3));
  const auto of_walk = likeliest_wander(walk, noise_rad2, hop_s, window_s);
  ASSERT_TRUE(of_walk);
  EXPECT_FALSE(of_walk->has_slope);
  EXPECT_NEAR(std::log10(of_walk->frequency), std::log10(0.25 / hop_s), 0.6);
  const auto of_swell = likeliest_wander(swell, noise_rad2, hop_s, window_s);
  ASSERT_TRUE(of_swell);
  EXPECT_TRUE(of_swell->has_slope);
}

}  // namespace
}  // namespace windway
