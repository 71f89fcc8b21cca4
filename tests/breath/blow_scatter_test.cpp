// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/blow_scatter.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "breath/response/bend.hpp"
#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;

/// Root mean square of the scatter found over twenty takes, in doublings of the pressure.
double found_doublings(const Circumstances& circumstances) {
  const std::vector<Blow> three{Blow::soft, Blow::moderate, Blow::hard};
  constexpr int seeds = 20;
  double squares = 0;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    synthesis::Random random(seed);
    const auto take = testing::invent_take(testing::in_steps(testing::notes_of_whistle, three), circumstances, random);
    const Blows blows = blows_as_said(take.naming, {three, {}});
    const std::vector<double> bend = bend_by_hold(take.naming, blows);
    const std::vector<bool> none(take.naming.holds.size(), false);
    const Wander wander = measure_wander(take.naming, blows.used, none, bend);
    squares += std::pow(measure_blow_scatter(take.naming, blows, wander, bend).strength_sd, 2) / seeds;
  }
  return std::sqrt(squares) * (testing::strength_of(Blow::hard) - testing::strength_of(Blow::soft));
}

Circumstances loose_by(double doublings) {
  Circumstances loose;
  loose.loose_doublings = doublings;
  return loose;
}

TEST(MeasureBlowScatter, SeesHowLooselyThePlayerRepeatsABlow) {
  for (double doublings : {0.1, 0.2}) EXPECT_NEAR(found_doublings(loose_by(doublings)) / doublings, 1.0, 0.15);
}

TEST(MeasureBlowScatter, ARoomThatBendsLevelsIsNoScatterOfTheBlows) {
  Circumstances room = loose_by(0.1);
  room.room_db = 1.5;
  EXPECT_NEAR(found_doublings(room), 0.1, 0.05);
}

TEST(MeasureBlowScatter, AnEvenPlayerIsNotCalledLoose) { EXPECT_LT(found_doublings(loose_by(0.0)), 0.04); }

TEST(CommonVariance, IsWhatTheIndicatorsShare) {
  const SdPrior vague{0.3, 2.0};
  const double shared = 0.04;
  const std::vector<std::vector<double>> seen{{shared + 0.01, shared}, {shared, shared + 0.25}};
  EXPECT_NEAR(common_variance(seen, {0.1, 0.5}, 400, vague, 0.0), shared, 0.005);
  EXPECT_NEAR(common_variance(seen, {0.1, 0.5}, 400, vague, 0.01), shared - 0.01, 0.005);
}

TEST(CommonVariance, FewDegreesOfFreedomLeaveItWide) {
  const SdPrior prior{0.03, 0.9};
  const std::vector<std::vector<double>> seen{{1e-4}};
  EXPECT_GT(common_variance(seen, {0.01}, 2, prior, 0.0), common_variance(seen, {0.01}, 50, prior, 0.0));
}

}  // namespace
}  // namespace windway
