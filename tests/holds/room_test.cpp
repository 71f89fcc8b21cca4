// SPDX-License-Identifier: GPL-3.0-or-later
// The estimate of R. C. Paule and J. Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377 (from memory): the variance
// between groups for which the weighted squares about the weighted mean are as many as the degrees of freedom.
#include "holds/room.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/random.hpp"

namespace windway {
namespace {

using synthesis::Random;
using Gains = std::vector<std::vector<HarmonicGain>>;

/// Gains of `harmonics` harmonics over `spans` spans; noise and room turn each harmonic's own phase.
Gains gains_of(int spans, int harmonics, double noise_rad2, double room_rad2, Random& random) {
  Gains gains;
  for (int span = 0; span < spans; ++span) {
    const double true_gain_rad = random.normal(0.0, 3.0);
    gains.emplace_back();
    for (int number = 1; number <= harmonics; ++number) {
      const double noise = noise_rad2 * number;  // higher harmonics are weaker
      const double off_rad = random.normal(0.0, std::sqrt(noise + room_rad2));
      gains.back().push_back({number, true_gain_rad + off_rad / number, noise});
    }
  }
  return gains;
}

/// Weighted squares about each span's weighted mean, over the degrees of freedom, worked out apart from the library.
double squares_per_degree(const Gains& gains, double room_rad2) {
  double squares = 0.0;
  double degrees = 0.0;
  for (const auto& span : gains) {
    double weights = 0.0, sum = 0.0, sum_of_squares = 0.0;
    for (const HarmonicGain& gain : span) {
      const double weight = 1.0 / ((gain.variance_rad2 + room_rad2) / (gain.number * gain.number));
      weights += weight;
      sum += weight * gain.gain_rad;
      sum_of_squares += weight * gain.gain_rad * gain.gain_rad;
    }
    squares += sum_of_squares - sum * sum / weights;
    degrees += static_cast<double>(span.size()) - 1.0;
  }
  return squares / degrees;
}

TEST(RoomPhaseVariance, IsFoundFromHowTheHarmonicsDisagree) {
  Random random(1);
  for (const double room_rad2 : {1e-4, 1e-2, 0.3}) {
    const double found = room_phase_variance_rad2(gains_of(300, 3, 0.1 * room_rad2, room_rad2, random));
    EXPECT_NEAR(found / room_rad2, 1.0, 0.2);  // 600 degrees of freedom: 3.5 standard deviations
  }
}

TEST(RoomPhaseVariance, MakesTheSquaresAsManyAsTheDegreesOfFreedom) {
  Random random(2);
  const Gains gains = gains_of(40, 4, 1e-3, 5e-3, random);
  EXPECT_NEAR(squares_per_degree(gains, room_phase_variance_rad2(gains)), 1.0, 1e-6);
}

TEST(RoomPhaseVariance, IsNothingWhereNoiseExplainsTheDisagreement) {
  Random random(3);
  Gains gains = gains_of(200, 3, 1e-3, 0.0, random);
  for (auto& span : gains) {
    for (HarmonicGain& gain : span) gain.variance_rad2 *= 1.5;  // so that chance cannot bring it above 1
  }
  EXPECT_LT(squares_per_degree(gains, 0.0), 1.0);
  EXPECT_EQ(room_phase_variance_rad2(gains), 0.0);
}

TEST(RoomPhaseVariance, IsNothingWhereNoSpanHasTwoHarmonics) {
  EXPECT_EQ(room_phase_variance_rad2({}), 0.0);
  EXPECT_EQ(room_phase_variance_rad2({{{1, 0.5, 1e-3}}, {{1, -2.0, 1e-3}}}), 0.0);
}

}  // namespace
}  // namespace windway
