// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/drift.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;
using testing::three;

/// 42 groups twice, up and back, in 100 s.
std::vector<DriftPoint> there_and_back(double size_cents, double tau_s, double noise_cents, std::uint64_t seed) {
  synthesis::Random random(seed);
  std::vector<DriftPoint> points;
  for (int i = 0; i < 84; ++i) {
    const double time_s = (i + 0.5) * 100.0 / 84;
    const double drift = size_cents * std::expm1(-time_s / tau_s) / std::expm1(-100.0 / tau_s);
    const int group = i < 42 ? i : 83 - i;
    points.push_back({group, time_s, 7.0 * group + drift + random.normal(0, noise_cents), noise_cents * noise_cents});
  }
  return points;
}

TEST(FindDrift, MeasuresAWarmingFluteAndBringsItToTheWarmEnd) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto points = there_and_back(10, 35, 0.4, seed);
    const auto fit = find_drift(points, {0, 100});
    ASSERT_TRUE(fit.has_value());
    EXPECT_NEAR(fit->drift.over_take_cents, 10.0, fit->drift.over_take_u95_cents + 0.5);
    EXPECT_EQ(fit->drift.reference_time_s, 100.0);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double left = 10.0 - 10.0 * std::expm1(-points[i].time_s / 35) / std::expm1(-100.0 / 35);
      EXPECT_NEAR(fit->correction_cents[i], left, 1.2);
    }
  }
}

TEST(FindDrift, TellsAHeadThatMovedFromAFluteThatWarms) {
  int stepped = 0, warmed = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    std::vector<DriftPoint> moved = there_and_back(0, 35, 0.6, seed);
    const double at_s = 20.0 + 0.6 * static_cast<double>(seed);
    for (DriftPoint& p : moved) p.cents -= p.time_s > at_s ? 17.0 : 0.0;
    const auto step_cents = find_drift(moved, {0, 100})->drift.step_cents;
    stepped += step_cents && std::abs(*step_cents + 17.0) < 2.0;
    warmed += find_drift(there_and_back(12, 8.0 + 0.5 * static_cast<double>(seed), 0.6, seed), {0, 100})
                  ->drift.step_cents.has_value();
  }
  EXPECT_EQ(stepped, 100);
  EXPECT_EQ(warmed, 0);
}

TEST(FindDrift, ACoolingFluteSinks) {
  const auto fit = find_drift(there_and_back(-6, 60, 0.3, 1), {0, 100});
  ASSERT_TRUE(fit.has_value());
  EXPECT_NEAR(fit->drift.over_take_cents, -6.0, 0.8);
}

TEST(FindDrift, CorrectsNothingWhereNothingDrifts) {
  int corrected = 0, held = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const auto fit = find_drift(there_and_back(0, 35, 0.4, seed), {0, 100});
    ASSERT_TRUE(fit.has_value());
    corrected += fit->drift.reference_time_s.has_value();
    held += std::abs(fit->drift.over_take_cents) <= fit->drift.over_take_u95_cents;
  }
  EXPECT_LE(corrected, 3);
  EXPECT_GE(held, 180);
}

TEST(FindDrift, TheIntervalHoldsTheTruthWhereLevelsTellUnequalBlowsOfUnequallyBentNotes) {
  constexpr double own_cents = 0.4, blow_sd = 0.04;
  int held = 0;
  constexpr int takes = 400;
  for (std::uint64_t seed = 1; seed <= takes; ++seed) {
    synthesis::Random random(seed);
    const double tau_s = 60.0 * std::exp(random.normal(0, 0.7));  // as is believed beforehand
    std::vector<DriftPoint> points = there_and_back(10, tau_s, own_cents, seed + 1000);
    for (DriftPoint& p : points) {
      const double bend_cents = 4.0 + p.group / 3 % 7 * 2.5;
      p.breath_cents = bend_cents * random.normal(0, blow_sd);
      p.cents += p.breath_cents;
      p.variance_cents2 += bend_cents * bend_cents * blow_sd * blow_sd;
    }
    const auto fit = find_drift(points, {0, 100});
    ASSERT_TRUE(fit.has_value());
    held += std::abs(fit->drift.over_take_cents - 10.0) <= fit->drift.over_take_u95_cents;
  }
  EXPECT_GE(held, 0.93 * takes);
  EXPECT_LE(held, 0.98 * takes);
}

TEST(FindDrift, RepeatsCloseTogetherTellNothing) {
  std::vector<DriftPoint> points;
  for (int i = 0; i < 40; ++i) points.push_back({i / 2, i * 2.0, 0.1 * i, 0.1});
  EXPECT_FALSE(find_drift(points, {0, 80}).has_value());
  EXPECT_FALSE(find_drift({}, {0, 80}).has_value());
}

TEST(MeasureBreath, GivesTheNotesOfAWarmingFluteAsAtItsWarmEnd) {
  Circumstances warming;
  warming.warming_cents = 10;
  synthesis::Random random(2);
  const auto take = testing::invent_take(testing::there_and_back(14, three), warming, random);
  const BreathResult result = measure_breath(take.naming, {});
  ASSERT_TRUE(result.drift && result.drift->reference_time_s);
  EXPECT_NEAR(*result.drift->reference_time_s, take.naming.holds.back().hold.end_s, 1e-9);
  for (std::size_t n = 0; n < result.notes.size(); ++n)
    EXPECT_NEAR(result.notes[n].moderate.cents, 10.0 + testing::true_cents(static_cast<int>(n), 0.0), 1.2);
}

}  // namespace
}  // namespace windway
