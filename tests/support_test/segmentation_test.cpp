// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/segmentation.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/drawn_holds.hpp"
#include "support/played_takes.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

std::ptrdiff_t count(const TrueSegmentation& stretches, Sounding what) {
  return std::ranges::count(stretches, what, &TrueStretch::what);
}

void expect_in_order(const TrueSegmentation& stretches, double take_s) {
  double until_s = 0.0;
  for (const TrueStretch& stretch : stretches) {
    EXPECT_GE(stretch.start_s, until_s);
    EXPECT_GT(stretch.end_s, stretch.start_s);
    until_s = stretch.end_s;
  }
  EXPECT_LE(until_s, take_s);
}

TEST(Segmentation, HasEveryBlowInOrderAndNothingOverlaps) {
  for (const TakeKind kind : {TakeKind::messy, TakeKind::church, TakeKind::dying, TakeKind::whine}) {
    SCOPED_TRACE(kind_name(kind));
    const PlayedTake take = play_take(kind, 5);
    expect_in_order(take.sound.segmentation, static_cast<double>(take.sound.samples.size()) / take.sound.rate_hz);
    std::vector<TrueStretch> blown;
    std::ranges::copy_if(take.sound.segmentation, std::back_inserter(blown),
                         [](const TrueStretch& s) { return s.what == Sounding::blown; });
    ASSERT_EQ(blown.size(), take.blowings.size());
    for (std::size_t i = 0; i < blown.size(); ++i) EXPECT_EQ(blown[i].midi, take.blowings[i].midi);
  }
}

TEST(Segmentation, AnEchoFollowsItsBlowOnlyInARoom) {
  EXPECT_EQ(count(play_take(TakeKind::steps, 1).sound.segmentation, Sounding::echo), 0);
  const TrueSegmentation church = play_take(TakeKind::church, 1).sound.segmentation;
  EXPECT_EQ(count(church, Sounding::echo), count(church, Sounding::blown));
  for (std::size_t i = 1; i < church.size(); ++i) {
    if (church[i].what != Sounding::echo) continue;
    EXPECT_EQ(church[i - 1].what, Sounding::blown);
    EXPECT_EQ(church[i - 1].midi, church[i].midi);
    EXPECT_DOUBLE_EQ(church[i - 1].end_s, church[i].start_s);
  }
}

TEST(Segmentation, AnEchoLastsUntilItIsAsSoftAsTheNoiseItIsHeardIn) {
  TrueStretch blown;
  blown.end_s = 1.0;
  const std::vector<float> samples(8 * 16000, 0.1F);  // -20 dB
  RecordingChain chain;
  chain.reverb_s = 1.0;
  chain.reverb_db = -10.0;
  chain.floor_db = -60.0;
  const auto stretches = with_echoes({blown}, chain, samples, 16000.0);
  ASSERT_EQ(stretches.size(), 2U);
  // -20 - 10 down to -60 + 10 log10(30 / 8000), 60 dB a second
  EXPECT_NEAR(stretches.back().end_s - 1.0, (30.0 + 10.0 * std::log10(8000.0 / 30.0)) / 60.0, 1e-3);
}

TEST(Segmentation, AWhineSoundsWhereverNothingElseDoes) {
  const PlayedTake take = play_take(TakeKind::whine, 2);
  const auto& stretches = take.sound.segmentation;
  EXPECT_EQ(count(stretches, Sounding::foreign), static_cast<std::ptrdiff_t>(take.blowings.size()) + 1);
  for (std::size_t i = 1; i < stretches.size(); ++i) EXPECT_EQ(stretches[i - 1].end_s, stretches[i].start_s);
  std::vector<double> whine_db, hard_db;
  for (const TrueStretch& s : stretches) {
    if (s.what == Sounding::foreign) whine_db.push_back(level_db(s, take.sound.samples, take.sound.rate_hz));
  }
  for (const TrueHold& h : take.sound.holds) {
    if (h.blow == Blow::hard) hard_db.push_back(level_db(stretch_of(h), take.sound.samples, take.sound.rate_hz));
  }
  std::ranges::sort(whine_db);
  std::ranges::sort(hard_db);
  const double under_db = hard_db[hard_db.size() / 2] - whine_db[whine_db.size() / 2];
  EXPECT_GT(under_db, 19.0);
  EXPECT_LT(under_db, 28.0);
}

TEST(Segmentation, TalkIsForeign) {
  for (std::uint64_t seed = 1; seed < 10; ++seed) {
    const PlayedTake take = play_take(TakeKind::messy, seed);
    const auto talks = count(take.sound.segmentation, Sounding::foreign);
    if (talks == 0) continue;
    EXPECT_EQ(talks, static_cast<std::ptrdiff_t>(take.blowings.size() / 5));
    return;
  }
  FAIL() << "nobody talks";
}

TEST(Segmentation, OfDrawnHoldsIsThatOfTheHolds) {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const DrawnTake take = draw_take(seed);
    expect_in_order(take.segmentation, static_cast<double>(take.samples.size()) / take.rate_hz);
    EXPECT_EQ(count(take.segmentation, Sounding::blown), static_cast<std::ptrdiff_t>(take.holds.size()));
    EXPECT_EQ(count(take.segmentation, Sounding::echo) > 0, take.room);
  }
}

}  // namespace
}  // namespace windway::synthesis
