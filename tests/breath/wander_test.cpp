// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/wander.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;

/// Stated SD of the mean of a hold, averaged over a take and over seeds.
double stated_sd(const Circumstances& circumstances) {
  double sum = 0, count = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    synthesis::Random random(seed);
    const auto meant = testing::in_steps(14, {Blow::soft, Blow::moderate, Blow::hard});
    const Naming naming = testing::invent_take(meant, circumstances, random).naming;
    const std::vector<bool> all(naming.holds.size(), true), none(naming.holds.size(), false);
    const Wander wander = measure_wander(naming, all, none, std::vector<double>(naming.holds.size(), 0.0));
    for (std::size_t h = 0; h < naming.holds.size(); ++h) {
      sum += std::sqrt(mean_variance_cents2(wander, naming, h));
      count += 1;
    }
  }
  return sum / count;
}

double true_sd(const Circumstances& c) { return c.wander_cents * std::sqrt(variance_of_mean(c.length_s - 0.16, 0.3)); }

TEST(MeasureWander, SeesHowFarAHoldsMeanStraysFromTheResponse) {
  for (double cents : {0.1, 0.4, 1.5}) {
    Circumstances c;
    c.wander_cents = cents;
    EXPECT_NEAR(stated_sd(c) / true_sd(c), 1.05, 0.2) << cents;
  }
}

TEST(MeasureWander, ASagIsNoWander) {
  Circumstances sagging;
  sagging.sag_cents_per_s = 5;
  EXPECT_NEAR(stated_sd(sagging), stated_sd({}), 0.01);
}

TEST(MeasureWander, AVibratoIsNoWander) {
  Circumstances vibrato;
  vibrato.vibrato_cents = 14;
  EXPECT_NEAR(stated_sd(vibrato) / true_sd(vibrato), 1.05, 0.3);
}

TEST(MeasureWander, OfTwoFingeringsOfOneNoteIsNotPooled) {
  synthesis::Random random(1);
  const std::vector<testing::MeantBlow> meant(12);
  Circumstances steady, unsteady;
  steady.wander_cents = 0.1;
  unsteady.wander_cents = 1.5;
  Naming naming = testing::invent_take(meant, steady, random).naming;
  for (NamedHold hold : testing::invent_take(meant, unsteady, random).naming.holds) {
    hold.note.fingering = "vented";
    naming.holds.push_back(hold);
  }
  const std::vector<bool> all(24, true), none(24, false);
  const Wander wander = measure_wander(naming, all, none, std::vector<double>(24, 0.0));
  EXPECT_GT(mean_variance_cents2(wander, naming, 12), 3.0 * mean_variance_cents2(wander, naming, 0));
}

TEST(MeasureWander, WithoutCurvesFallsBackOnAPlainFigure) {
  synthesis::Random random(1);
  Naming naming = testing::invent_take(testing::in_steps(3, {Blow::soft, Blow::hard}), {}, random).naming;
  for (NamedHold& h : naming.holds) h.hold.curve.clear();
  const std::vector<bool> all(6, true), none(6, false);
  const Wander wander = measure_wander(naming, all, none, std::vector<double>(6, 0.0));
  EXPECT_TRUE(wander.shapes.empty());
  EXPECT_NEAR(mean_variance_cents2(wander, naming, 0), 0.25, 1e-12);
}

}  // namespace
}  // namespace windway
