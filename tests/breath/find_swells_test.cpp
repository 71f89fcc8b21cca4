// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/find_swells.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;
using testing::MeantBlow;
using testing::notes_of_whistle;
using testing::three;

constexpr int takes_tried = 10;

/// Holds of ten takes that were taken for swells and are none, or the other way round.
int wrong_swells(const std::vector<MeantBlow>& meant, const Circumstances& circumstances) {
  int wrong = 0;
  for (std::uint64_t seed = 1; seed <= takes_tried; ++seed) {
    synthesis::Random random(seed);
    const std::vector<bool> swells = find_swells(testing::invent_take(meant, circumstances, random).naming);
    for (std::size_t h = 0; h < meant.size(); ++h) wrong += swells[h] != (meant[h].blow == Blow::swell);
  }
  return wrong;
}

Circumstances falling(double db_s, double length_s) {
  Circumstances c;
  c.fall_db_s = db_s;
  c.own_fall_db_s = 0.4;
  c.length_s = length_s;
  return c;
}

Circumstances swelling(bool there_and_back, double bends_db) {
  Circumstances c;
  c.length_s = there_and_back ? 4.5 : 3.0;
  c.sag_cents_per_s = 0.7;
  c.there_and_back = there_and_back;
  c.bends_db = bends_db;
  return c;
}

TEST(FindSwells, AFallCommonToAllBlowsIsNone) {
  for (double db_s : {1.5, 3.0, 4.0})
    EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, three), falling(db_s, 1.2)), 0) << db_s;
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, three), falling(3.0, 3.0)), 0);
}

TEST(FindSwells, NorIsItWhereEveryNoteWasBlownOnce) {
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, {Blow::moderate}), falling(3.0, 1.2)), 0);
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, {Blow::moderate}), falling(0.5, 3.5)), 0);
}

TEST(FindSwells, AVibratoOfTheBreathIsNone) {
  Circumstances tremolo;
  tremolo.tremolo_db = 3.0;
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, three), tremolo), 0);
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, {Blow::moderate}), tremolo), 0);
}

TEST(FindSwells, UpOrThereAndBackInADryRoomOrALiveOne) {
  for (bool there_and_back : {false, true})
    for (double bends_db : {0.0, 2.5})
      EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, {Blow::swell}), swelling(there_and_back, bends_db)), 0)
          << there_and_back << ' ' << bends_db;
}

TEST(FindSwells, BesideSoftModerateAndHardOfEachNote) {
  const std::vector<Blow> each{Blow::soft, Blow::moderate, Blow::hard, Blow::swell};
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, each), swelling(false, 2.0)), 0);
}

TEST(FindSwells, WhereTheBreathNoiseDrownsInTheRooms) {
  Circumstances drowned = swelling(false, 0.0);
  drowned.noise_drowned = true;
  EXPECT_EQ(wrong_swells(testing::in_steps(notes_of_whistle, {Blow::swell}), drowned), 0);
}

double true_spread(int note) {
  return testing::true_cents(note, testing::strength_of(Blow::hard)) -
         testing::true_cents(note, testing::strength_of(Blow::soft));
}

TEST(MeasureBreath, ASwellIsReadTheSameHoweverTheRoomBendsItsLevel) {
  const double middle = 0.5 * (testing::strength_of(Blow::soft) + testing::strength_of(Blow::hard));
  for (bool there_and_back : {false, true}) {
    synthesis::Random random(11);
    const auto take =
        testing::invent_take(testing::in_steps(notes_of_whistle, {Blow::swell}), swelling(there_and_back, 2.5), random);
    const BreathResult result = measure_breath(take.naming, {});
    for (std::size_t n = 0; n < result.notes.size(); ++n) {
      const int note = static_cast<int>(n);
      EXPECT_NEAR(result.notes[n].moderate.cents, testing::true_cents(note, middle), 1.3);
      ASSERT_TRUE(result.notes[n].spread.has_value());
      EXPECT_NEAR(result.notes[n].spread->cents, true_spread(note), 2.5);
    }
  }
}

TEST(MeasureBreath, AModerateBlowThatFallsIsItsMean) {
  synthesis::Random random(12);
  const auto meant = testing::in_steps(notes_of_whistle, three);
  const auto take = testing::invent_take(meant, falling(3.5, 1.2), random);
  const BreathResult result = measure_breath(take.naming, {});
  EXPECT_EQ(testing::wrong_blows(take, result), 0);
  for (std::size_t n = 0; n < result.notes.size(); ++n)
    EXPECT_NEAR(result.notes[n].moderate.cents, take.naming.holds[3 * n + 1].deviation_cents, 1e-9);
}

}  // namespace
}  // namespace windway
