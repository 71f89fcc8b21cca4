// SPDX-License-Identifier: GPL-3.0-or-later
// The scale for which the squares about the means, each weighted as Student's t asks, are as many as the degrees of
// freedom: R. C. Paule and J. Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377; K. L. Lange, R. J. A. Little and J. M.
// G. Taylor, J. Am. Stat. Assoc. 84 (1989) 881 (both from memory).
#include "holds/room.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "support/random.hpp"

namespace windway {
namespace {

using synthesis::Random;
using Gains = std::vector<std::vector<HarmonicGain>>;

/// Student's t with 4 degrees of freedom: a normal number over the root of a mean of four squares.
double student(Random& random) {
  double squares = 0.0;
  for (int i = 0; i < 4; ++i) squares += std::pow(random.normal(), 2) / 4.0;
  return random.normal() / std::sqrt(squares);
}

/// Gains of `harmonics` harmonics over `spans` spans; noise and room turn each harmonic's own phase, the more the
/// higher it is.
Gains gains_of(int spans, int harmonics, double noise_rad2, double room_rad2, Random& random) {
  Gains gains;
  for (int span = 0; span < spans; ++span) {
    const double true_gain_rad = random.normal(0.0, 3.0);
    gains.emplace_back();
    for (int number = 1; number <= harmonics; ++number) {
      const double off_rad = std::sqrt((noise_rad2 + room_rad2) * number) * student(random);
      gains.back().push_back({number, true_gain_rad + off_rad / number, noise_rad2 * number});
    }
  }
  return gains;
}

TEST(RoomPhaseVariance, IsFoundFromHowTheHarmonicsDisagree) {
  Random random(1);
  for (const double room_rad2 : {1e-4, 1e-2, 0.3}) {
    const double found = room_phase_variance_rad2(gains_of(600, 4, 0.1 * room_rad2, room_rad2, random));
    EXPECT_NEAR(found / room_rad2, 1.0, 0.25) << room_rad2;
  }
}

TEST(HarmonicTrust, LeavesOutAHarmonicThatSlippedATurn) {
  const double turn = 2.0 * std::numbers::pi / 3.0;  // of harmonic 3, as the fundamental counts it
  const std::vector<HarmonicGain> gains = {{1, 0.00, 1e-3}, {2, 0.02, 1e-3}, {3, turn, 1e-3}, {4, 0.01, 1e-3}};
  const HarmonicTrust trust = harmonic_trust(gains, 0.01);
  double sum = 0.0, weights = 0.0;
  for (std::size_t h = 0; h < gains.size(); ++h) {
    sum += trust.weight[h] * gains[h].gain_rad;
    weights += trust.weight[h];
  }
  EXPECT_NEAR(sum / weights, 0.01, 0.05);
  auto agreeing = gains;
  agreeing[2].gain_rad = 0.01;
  EXPECT_GT(trust.variance_rad2, 2.0 * harmonic_trust(agreeing, 0.01).variance_rad2);
}

TEST(HarmonicTrust, WithoutARoomIsThatOfTheNoiseAlone) {
  const HarmonicTrust trust = harmonic_trust({{1, 0.0, 1e-3}, {2, 0.1, 2e-3}}, 0.0);
  EXPECT_DOUBLE_EQ(trust.weight[0], 1e3);
  EXPECT_DOUBLE_EQ(trust.weight[1], 2e3);
  EXPECT_EQ(trust.variance_rad2, 0.0);
}

TEST(HarmonicTrust, StatedIntervalsHoldTheTruthAsOftenAsTheySay) {
  Random random(5);
  constexpr int spans = 3000;
  int inside = 0;
  for (int i = 0; i < spans; ++i) {
    std::vector<HarmonicGain> gains;
    for (int number = 1; number <= 4; ++number) {
      gains.push_back({number, std::sqrt(0.02 * number) * student(random) / number, 1e-9});
    }
    const HarmonicTrust trust = harmonic_trust(gains, 0.02);
    double sum = 0.0, weights = 0.0;
    for (std::size_t h = 0; h < gains.size(); ++h) {
      sum += trust.weight[h] * gains[h].gain_rad;
      weights += trust.weight[h];
    }
    if (std::abs(sum / weights) <= 1.96 * std::sqrt(trust.variance_rad2)) ++inside;
  }
  EXPECT_GT(inside, 0.93 * spans);
  EXPECT_LT(inside, 0.98 * spans);
}

TEST(RoomPhaseVariance, IsNothingWhereNoiseExplainsTheDisagreement) {
  Random random(3);
  Gains gains = gains_of(200, 3, 1e-3, 0.0, random);
  for (auto& span : gains) {
    for (HarmonicGain& gain : span) gain.variance_rad2 *= 1.5;  // so that chance cannot bring it above
  }
  EXPECT_EQ(room_phase_variance_rad2(gains), 0.0);
}

TEST(RoomPhaseVariance, IsNothingWhereNoSpanHasTwoHarmonics) {
  EXPECT_EQ(room_phase_variance_rad2({}), 0.0);
  EXPECT_EQ(room_phase_variance_rad2({{{1, 0.5, 1e-3}}, {{1, -2.0, 1e-3}}}), 0.0);
}

}  // namespace
}  // namespace windway
