// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <optional>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;
using testing::InventedTake;
using testing::MeantBlow;
using testing::three;

const std::vector<Blow> two{Blow::soft, Blow::hard};
const std::vector<Blow> one{Blow::moderate};
constexpr int seeds = 20;

/// Holds with a wrong blow over all seeds.
int wrong_over_seeds(const std::vector<MeantBlow>& meant, const Circumstances& circumstances, bool expected = true) {
  int wrong = 0;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    synthesis::Random random(seed);
    const InventedTake take = testing::invent_take(meant, circumstances, random);
    wrong += testing::wrong_blows(take, measure_breath(take.naming, {}), expected);
  }
  return wrong;
}

TEST(JudgeBlows, TellsSoftModerateAndHardOfEveryNoteInTurn) {
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(testing::notes_of_whistle, three), {}), 0);
}

TEST(JudgeBlows, PresumesNoOrderOfBlowing) {
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(10, {Blow::hard, Blow::soft, Blow::moderate}), {}), 0);
  EXPECT_EQ(wrong_over_seeds(testing::in_rounds(10, three), {}), 0);
}

TEST(JudgeBlows, CallsTwoStrengthsSoftAndHard) {
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(testing::notes_of_whistle, two), {}), 0);
}

TEST(JudgeBlows, CountsRepeatsOfABlowAsOne) {
  const std::vector<Blow> repeated{Blow::soft, Blow::soft, Blow::moderate, Blow::hard, Blow::hard};
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(8, repeated), {}), 0);
}

TEST(JudgeBlows, TellsTheBlowsOfNotesPlayedManyTimes) {
  std::vector<Blow> many;  // 24 of each note, unequally many of a kind: not every labelling is tried any more
  for (int i = 0; i < 24; ++i) many.push_back(i % 4 == 0 ? Blow::moderate : i % 2 == 0 ? Blow::soft : Blow::hard);
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(4, many), {}), 0);
}

TEST(JudgeBlows, ToldByOneNoteAlone) { EXPECT_EQ(wrong_over_seeds(testing::in_steps(1, three), {}), 0); }

TEST(JudgeBlows, SurvivesARoomThatBendsLevels) {
  Circumstances room;
  room.room_db = 4;
  // 840 holds; at most half a percent wrong.
  EXPECT_LE(wrong_over_seeds(testing::in_steps(testing::notes_of_whistle, three), room), 4);
}

TEST(JudgeBlows, SurvivesALevellingRecorder) {
  Circumstances levelled;
  levelled.levelled = true;
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(testing::notes_of_whistle, three), levelled), 0);
}

TEST(JudgeBlows, SurvivesAFluteThatWarmsBetweenThereAndBack) {
  Circumstances warming;
  warming.warming_cents = 10;
  EXPECT_EQ(wrong_over_seeds(testing::there_and_back(testing::notes_of_whistle, three), warming), 0);
}

TEST(JudgeBlows, InventsNothingWhereOneStrengthWasBlown) {
  EXPECT_EQ(wrong_over_seeds(testing::in_steps(testing::notes_of_whistle, one), {}, false), 0);
  EXPECT_EQ(wrong_over_seeds(testing::there_and_back(testing::notes_of_whistle, one), {}, false), 0);
}

TEST(JudgeBlows, TakesLooseRepeatsForOneStrength) {
  Circumstances loose;
  loose.loose_doublings = 0.25;  // some 0.9 dB, and several cents, in all cues at once
  EXPECT_EQ(wrong_over_seeds(testing::there_and_back(testing::notes_of_whistle, one), loose, false), 0);
}

/// Each note once for each of these strengths, in doublings about moderate.
std::vector<MeantBlow> at_strengths(int notes, const std::vector<double>& doublings) {
  std::vector<MeantBlow> meant;
  for (int note = 0; note < notes; ++note)
    for (double d : doublings) meant.push_back({note, Blow::moderate, d});
  return meant;
}

TEST(JudgeBlows, TakesLooseRepeatsOfFewNotesForOneStrength) {
  Circumstances loose;
  loose.loose_doublings = 0.25;
  EXPECT_EQ(wrong_over_seeds(at_strengths(3, {0, 0, 0}), loose, false), 0);
  EXPECT_EQ(wrong_over_seeds(at_strengths(1, {0, 0, 0, 0, 0, 0}), loose, false), 0);
}

TEST(JudgeBlows, ANoteBlownOnceMoreAndSofterIsItsOwnMatter) {
  std::vector<MeantBlow> meant = testing::in_steps(testing::notes_of_whistle, one);
  meant.insert(meant.begin() + 5, {4, Blow::moderate, -0.45});
  meant.push_back({9, Blow::moderate, -0.35});
  EXPECT_EQ(wrong_over_seeds(meant, {}, false), 0);
}

TEST(JudgeBlows, OfFourStrengthsTheTwoInTheMiddleAreModerate) {
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    synthesis::Random random(seed);
    std::vector<MeantBlow> meant;
    for (int note = 0; note < testing::notes_of_whistle; ++note)
      for (int k = 0; k < 4; ++k)  // in another order on each note
        meant.push_back(std::array<MeantBlow, 4>{
            {{note, Blow::soft, 0.0},
             {note, Blow::moderate, -0.44},
             {note, Blow::moderate, 0.35},
             {note, Blow::hard, 0.0}}}[static_cast<std::size_t>((note * 3 + k * (note % 2 ? 1 : 3)) % 4)]);
    const InventedTake take = testing::invent_take(meant, {}, random);
    const BreathResult result = measure_breath(take.naming, {});
    EXPECT_EQ(testing::wrong_blows(take, result), 0);
    for (std::size_t n = 0; n < result.notes.size(); ++n) {
      double middle = 0;
      for (std::size_t h = 4 * n; h < 4 * n + 4; ++h)
        if (meant[h].blow == Blow::moderate) middle += 0.5 * take.naming.holds[h].deviation_cents;
      EXPECT_NEAR(result.notes[n].moderate.cents, middle, 1e-9);
      EXPECT_FALSE(result.notes[n].moderate_is_midway);
    }
  }
}

TEST(JudgeBlows, OfFiveTheOnesBesideTheModerateHaveNoNameButAreUsed) {
  const std::array<std::optional<Blow>, 5> blows{Blow::soft, std::nullopt, Blow::moderate, std::nullopt, Blow::hard};
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    synthesis::Random random(seed);
    const InventedTake take =
        testing::invent_take(at_strengths(testing::notes_of_whistle, {-1.25, -0.6, 0, 0.5, 1.0}), {}, random);
    const BreathResult result = measure_breath(take.naming, {});
    for (std::size_t h = 0; h < result.blow.size(); ++h) {
      EXPECT_EQ(result.blow[h], blows[h % 5]);
      EXPECT_TRUE(result.used[h]);
    }
    for (const NoteBreath& note : result.notes) EXPECT_EQ(note.holds, 5);
  }
}

TEST(JudgeBlows, PlacesOrLeavesOutTheBlowsOfANoteThatMissesOne) {
  std::vector<MeantBlow> meant = testing::in_steps(testing::notes_of_whistle, three);
  meant.erase(meant.begin() + 10);  // a moderate: the two that are left are far apart
  EXPECT_EQ(wrong_over_seeds(meant, {}), 0);
}

TEST(BlowsAsSaid, AreTakenInOrderAndOddOnesLeftOut) {
  synthesis::Random random(3);
  std::vector<MeantBlow> meant = testing::in_steps(3, three);
  meant.push_back({2, Blow::soft});
  const InventedTake take = testing::invent_take(meant, {}, random);
  const BreathResult result = measure_breath(take.naming, {three, {}});
  for (std::size_t h = 0; h < 9; ++h) EXPECT_EQ(result.blow[h], meant[h].blow);
  EXPECT_FALSE(result.used[9]);
  EXPECT_TRUE(testing::warned(result, WarningCode::blow_count));
}

TEST(BlowsAsSaid, ALeftOutBlowOfAFurtherFingeringIsCalledByItsName) {
  synthesis::Random random(3);
  std::vector<MeantBlow> meant = testing::in_steps(2, three);
  meant.push_back({1, Blow::soft});
  InventedTake take = testing::invent_take(meant, {}, random);
  take.naming.instrument = builtin_instrument(Kind::whistle, 74);
  take.naming.holds.back().note.fingering = "vented";
  const BreathResult result = measure_breath(take.naming, {three, {}});
  EXPECT_TRUE(result.used[5]);
  EXPECT_TRUE(result.used[6]);  // the note stays, its strength unknown
  EXPECT_FALSE(result.blow[6]);
  const auto warning = std::ranges::find(result.warnings, WarningCode::blow_count, &Warning::code);
  ASSERT_NE(warning, result.warnings.end());
  EXPECT_NE(warning->message.find("number of blows of E5 vented is not"), std::string::npos) << warning->message;
}

TEST(BlowsAsSaid, AScaleBlownOnceIsNotCalledOneStrengthWhereThreeBlowsWereNamed) {
  synthesis::Random random(5);
  const InventedTake take = testing::invent_take(testing::in_rounds(5, {Blow::moderate}), {}, random);
  const BreathResult result = measure_breath(take.naming, {three, {}});
  EXPECT_EQ(result.notes.size(), 5U);
  EXPECT_TRUE(testing::warned(result, WarningCode::blow_count));
  for (const Warning& warning : result.warnings)
    EXPECT_EQ(warning.message.find("one strength"), std::string::npos) << warning.message;
}

TEST(BlowsAsSaid, ARemedyThatWasUsedIsNotOfferedAgain) {
  synthesis::Random random(6);
  InventedTake take = testing::invent_take(testing::in_rounds(5, {Blow::soft, Blow::soft}), {}, random);
  for (std::size_t h = 5; h < 10; ++h) take.naming.holds[h].hold.take = 1;
  BlowHint hint;
  hint.blow_of_take = {Blow::soft, Blow::soft};
  for (const Warning& warning : measure_breath(take.naming, hint).warnings)
    EXPECT_EQ(warning.message.find("--soft"), std::string::npos) << warning.message;
}

TEST(BlowsAsSaid, ATakeForEachStrengthNeedsNoLevels) {
  synthesis::Random random(4);
  InventedTake take = testing::invent_take(testing::in_rounds(5, three), {}, random);
  for (std::size_t h = 0; h < take.naming.holds.size(); ++h) take.naming.holds[h].hold.take = static_cast<int>(h / 5);
  const BreathResult result = measure_breath(take.naming, {{}, {Blow::soft, Blow::moderate, Blow::hard}});
  EXPECT_EQ(testing::wrong_blows(take, result), 0);
  for (const NoteBreath& note : result.notes) {
    EXPECT_TRUE(note.spread.has_value());
    EXPECT_FALSE(note.cents_per_db.has_value());  // levels of different takes are not compared
  }
  EXPECT_TRUE(testing::warned(result, WarningCode::warming_unseen));
}

TEST(BlowsAsSaid, AHoldOutsideTheScaleIsNeverUsed) {
  synthesis::Random random(5);
  InventedTake take = testing::invent_take(testing::in_steps(4, three), {}, random);
  take.naming.holds[4].in_scale = false;
  const BreathResult result = measure_breath(take.naming, {three, {}});
  EXPECT_FALSE(result.used[4]);
  EXPECT_FALSE(result.blow[4].has_value());
}

}  // namespace
}  // namespace windway
