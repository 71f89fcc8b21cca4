// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/vibrato.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "holds/found_blows.hpp"
#include "support/plan.hpp"
#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double track_hop_s = 0.01;

std::vector<double> swinging_curve(double rate_hz, double depth_cents, double slope_cents_per_s, double noise_cents) {
  Random random(1);
  std::vector<double> cents;
  for (int i = 0; i < 90; ++i) {
    const double t_s = track_hop_s * i;
    cents.push_back(slope_cents_per_s * t_s + depth_cents * std::sin(2.0 * std::numbers::pi * rate_hz * t_s + 0.8) +
                    random.normal(0.0, noise_cents));
  }
  return cents;
}

TEST(VibratoRate, IsFoundOnASlopeAndInNoise) {
  for (const double rate_hz : {4.0, 5.2, 6.5, 7.5}) {
    const auto found = vibrato_hz(swinging_curve(rate_hz, 10.0, 8.0, 1.0), track_hop_s, 3.0);
    ASSERT_TRUE(found) << rate_hz;
    EXPECT_NEAR(*found, rate_hz, 0.1);
  }
}

TEST(VibratoRate, AStillCurveASlopeAndNoiseHaveNone) {
  EXPECT_FALSE(vibrato_hz(std::vector<double>(90, 3.0), track_hop_s, 3.0));
  EXPECT_FALSE(vibrato_hz(swinging_curve(5.0, 0.0, 40.0, 0.0), track_hop_s, 3.0));
  EXPECT_FALSE(vibrato_hz(swinging_curve(5.0, 0.0, 0.0, 6.0), track_hop_s, 3.0));
  EXPECT_FALSE(vibrato_hz(swinging_curve(5.0, 1.5, 0.0, 0.2), track_hop_s, 3.0));
  EXPECT_FALSE(vibrato_hz({}, track_hop_s, 3.0));
}

TEST(VibratoRate, TooShortToTellIsNone) {
  auto curve = swinging_curve(5.0, 10.0, 0.0, 0.0);
  curve.resize(20);
  EXPECT_FALSE(vibrato_hz(curve, track_hop_s, 3.0));
}

test::FoundTake vibrato_take(double rate_hz, double depth_cents, std::uint64_t seed) {
  Random random(seed);
  const FluteModel flute = draw_flute({}, random);
  const auto plan = note_by_note({74, 79, 83, 88}, {Blow::soft, Blow::hard}, {}, {{1.0, 1.3}, {0.2, 0.3}}, random);
  Performance performance;
  performance.playing.vibrato_cents = depth_cents;
  performance.playing.vibrato_hz = rate_hz;
  return test::found_take(synthesise_take(flute, plan, performance, random));
}

TEST(FindHolds, AVibratoIsToldWithItsRateAndWholePeriodsAreKept) {
  std::uint64_t seed = 1;
  for (const double rate_hz : {4.5, 5.2, 6.3}) {
    for (const double depth_cents : {8.0, 18.0, 30.0}) {
      const test::FoundTake take = vibrato_take(rate_hz, depth_cents, seed++);
      EXPECT_EQ(take.holds, take.blows);
      ASSERT_EQ(take.found.size(), take.blows);
      for (const test::FoundBlow& blow : take.found) {
        ASSERT_TRUE(blow.hold.vibrato_hz) << rate_hz << " Hz, " << depth_cents << " cents, midi " << blow.truth.midi;
        EXPECT_NEAR(*blow.hold.vibrato_hz, rate_hz, 0.15);
        const double periods = (blow.hold.steady_end_s - blow.hold.steady_start_s) * rate_hz;
        EXPECT_NEAR(periods, std::round(periods), 0.2) << "midi " << blow.truth.midi;
        // A mean in hertz would lie 0.13 cents above that in cents for the deepest.
        EXPECT_NEAR(blow.error_cents(), 0.0, 0.06) << depth_cents << " cents, midi " << blow.truth.midi;
      }
    }
  }
}

TEST(FindHolds, AVibratoIsMostlyMeasuredFromWhereItPassesItsMean) {
  int ends = 0;
  int near_mean = 0;
  for (const double rate_hz : {4.5, 5.2, 6.3}) {
    for (const double depth_cents : {8.0, 18.0, 30.0}) {
      for (const test::FoundBlow& blow : vibrato_take(rate_hz, depth_cents, 20).found) {
        for (const HoldPoint& end : {blow.hold.curve.front(), blow.hold.curve.back()}) {
          const double off_cents = std::abs(cents_between(blow.hold.frequency_hz, end.f0_hz));
          // There it moves by 0.4 of the depth a frame; the wander comes on top.
          near_mean += off_cents < 0.4 * depth_cents + 2.0 ? 1 : 0;
          ++ends;
        }
      }
    }
  }
  ASSERT_EQ(ends, 9 * 4 * 2 * 2);
  EXPECT_GE(near_mean, 0.85 * ends);  // by chance some 54 of the 144
}

TEST(FindHolds, APlainBlowHasNoVibrato) {
  for (const test::FoundBlow& blow : vibrato_take(5.0, 0.0, 9).found) EXPECT_FALSE(blow.hold.vibrato_hz);
}

}  // namespace
}  // namespace windway
