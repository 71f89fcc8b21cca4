// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::Circumstances;
using testing::InventedTake;
using testing::MeantBlow;
using testing::three;

BreathResult measured(const std::vector<MeantBlow>& meant, const Circumstances& circumstances, std::uint64_t seed) {
  synthesis::Random random(seed);
  return measure_breath(testing::invent_take(meant, circumstances, random).naming, {});
}

double true_spread(int note) {
  return testing::true_cents(note, testing::strength_of(Blow::hard)) -
         testing::true_cents(note, testing::strength_of(Blow::soft));
}

/// Share of the stated intervals that hold the response, over takes of `meant`.
struct Coverage {
  double moderate = 0;
  double spread = 0;
};

Coverage coverage(const std::vector<MeantBlow>& meant, const Circumstances& circumstances, double moderate_strength) {
  double notes = 0;
  Coverage held;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const BreathResult result = measured(meant, circumstances, seed);
    for (std::size_t n = 0; n < result.notes.size(); ++n) {
      const NoteBreath& note = result.notes[n];
      const int index = static_cast<int>(n);
      const double moderate = testing::true_cents(index, moderate_strength);
      held.moderate += std::abs(note.moderate.cents - moderate) <= note.moderate.u95_cents;
      if (note.spread) held.spread += std::abs(note.spread->cents - true_spread(index)) <= note.spread->u95_cents;
      notes += 1;
    }
  }
  return {held.moderate / notes, held.spread / notes};
}

TEST(MeasureBreath, StatedIntervalsHoldTheResponseNineteenTimesInTwenty) {
  Circumstances human;  // of a player who blew every note exactly alike the intervals are a little too wide
  human.loose_doublings = 0.05;
  const Coverage held = coverage(testing::in_steps(testing::notes_of_whistle, three), human, 0.0);
  EXPECT_GT(held.moderate, 0.93);
  EXPECT_LT(held.moderate, 0.985);
  EXPECT_GT(held.spread, 0.93);
  EXPECT_LT(held.spread, 0.985);
}

TEST(MeasureBreath, AVibratoWidensNoIntervalMuchAndBreaksNone) {
  Circumstances vibrato;
  vibrato.vibrato_cents = 14;
  const Coverage held = coverage(testing::in_steps(testing::notes_of_whistle, three), vibrato, 0.0);
  EXPECT_GT(held.moderate, 0.92);
  EXPECT_LT(held.moderate, 0.99);
}

TEST(MeasureBreath, ASwellIsReadAsAResponse) {
  Circumstances swell;
  swell.length_s = 3;
  swell.sag_cents_per_s = 0.7;
  const double middle = 0.5 * (testing::strength_of(Blow::soft) + testing::strength_of(Blow::hard));
  const auto meant = testing::in_steps(testing::notes_of_whistle, {Blow::swell});
  const BreathResult result = measured(meant, swell, 1);
  for (std::size_t n = 0; n < result.notes.size(); ++n) {
    EXPECT_EQ(result.blow[n], Blow::swell);
    EXPECT_NEAR(result.notes[n].moderate.cents, testing::true_cents(static_cast<int>(n), middle), 1.3);
    ASSERT_TRUE(result.notes[n].spread.has_value());
    EXPECT_NEAR(result.notes[n].spread->cents, true_spread(static_cast<int>(n)), 2.5);
  }
  const Coverage held = coverage(meant, swell, middle);
  EXPECT_GT(held.moderate, 0.92);
  EXPECT_GT(held.spread, 0.93);
}

TEST(MeasureBreath, SpreadAndSlopeComeFromWholeBlows) {
  const BreathResult result = measured(testing::in_steps(testing::notes_of_whistle, three), {}, 2);
  ASSERT_EQ(result.notes.size(), 14U);
  for (std::size_t n = 0; n < 14; ++n) {
    const NoteBreath& note = result.notes[n];
    ASSERT_TRUE(note.spread && note.cents_per_db && note.level_range_db && note.reach_soft_cents);
    EXPECT_NEAR(note.spread->cents, note.hard->cents - note.soft->cents, 1e-9);
    EXPECT_NEAR(*note.level_range_db, 3.4 * 2.25, 0.8);
    EXPECT_NEAR(note.cents_per_db->cents, true_spread(static_cast<int>(n)) / (3.4 * 2.25),
                note.cents_per_db->u95_cents);
    EXPECT_NEAR(*note.reach_soft_cents, note.moderate.cents - note.soft->cents, 0.1 * note.spread->cents);
    EXPECT_FALSE(note.moderate_is_midway);
    EXPECT_EQ(note.holds, 3);
  }
  EXPECT_EQ(result.warnings.size(), 1U);  // a scale played up only
  EXPECT_TRUE(testing::warned(result, WarningCode::warming_unseen));
}

TEST(MeasureBreath, ATimidBlowDoesNotMakeANoteLookStiff) {
  synthesis::Random random(6);
  InventedTake take = testing::invent_take(testing::in_steps(testing::notes_of_whistle, three), {}, random);
  NamedHold& timid = take.naming.holds[12];  // the soft blow of the fifth degree, blown half as far from moderate
  const double half = 0.5 * testing::strength_of(Blow::soft);
  timid.deviation_cents = testing::true_cents(4, half);
  timid.hold.level_db -= 3.4 * half;
  timid.hold.noise_db -= 2 * 3.4 * half;
  const NoteBreath note = measure_breath(take.naming, {three, {}}).notes[4];
  EXPECT_GT(*note.reach_soft_cents, 1.3 * (note.moderate.cents - note.soft->cents));
}

TEST(MeasureBreath, OfTwoBlowsModerateIsMidwayAndMarked) {
  const BreathResult result = measured(testing::in_steps(8, {Blow::soft, Blow::hard}), {}, 3);
  for (const NoteBreath& note : result.notes) {
    EXPECT_TRUE(note.moderate_is_midway);
    EXPECT_NEAR(note.moderate.cents, 0.5 * (note.soft->cents + note.hard->cents), 1e-9);
  }
}

TEST(MeasureBreath, OneStrengthGivesNoSpreadAndSaysSo) {
  const BreathResult result = measured(testing::in_steps(8, {Blow::moderate}), {}, 4);
  for (const NoteBreath& note : result.notes) {
    EXPECT_FALSE(note.spread || note.soft || note.hard || note.cents_per_db || note.reach_soft_cents);
    EXPECT_GT(note.moderate.u95_cents, 0.0);
  }
  EXPECT_TRUE(testing::warned(result, WarningCode::spread_not_measured));
  EXPECT_FALSE(result.drift.has_value());
}

TEST(MeasureBreath, SaysThatTheRecorderLevelled) {
  Circumstances levelled;
  levelled.levelled = true;
  const BreathResult result = measured(testing::in_steps(8, three), levelled, 5);
  EXPECT_TRUE(testing::warned(result, WarningCode::levelled));
  for (const NoteBreath& note : result.notes) EXPECT_FALSE(note.cents_per_db.has_value());
  EXPECT_FALSE(testing::warned(measured(testing::in_steps(8, three), {}, 5), WarningCode::levelled));
}

TEST(MeasureBreath, ACompressorIsNamedByThePitchThatMovesTooFarForADecibel) {
  synthesis::Random random(5);
  testing::InventedTake take = testing::invent_take(testing::in_steps(testing::notes_of_whistle, three), {}, random);
  const auto slope_of = [](const BreathResult& result) { return result.notes.front().cents_per_db->cents; };
  const BreathResult plain = measure_breath(take.naming, {});
  for (NamedHold& named : take.naming.holds) named.hold.level_db = -20.0 + (named.hold.level_db + 20.0) / 4.0;
  const BreathResult compressed = measure_breath(take.naming, {});
  EXPECT_GT(slope_of(compressed), 3.0 * slope_of(plain));
  EXPECT_FALSE(testing::warned(plain, WarningCode::levelled));
  EXPECT_TRUE(testing::warned(compressed, WarningCode::levelled));
}

TEST(MeasureBreath, TwoStrengthsNearEachOtherMayBeAnyTwoOfThree) {
  const int notes = testing::notes_of_whistle;
  const auto is_unknown = [&](const std::vector<Blow>& blows) {
    return testing::warned(measured(testing::in_steps(notes, blows), {}, 5), WarningCode::strengths_unknown);
  };
  EXPECT_TRUE(is_unknown({Blow::moderate, Blow::hard}));
  EXPECT_FALSE(is_unknown({Blow::soft, Blow::hard}));
  EXPECT_FALSE(is_unknown(three));
}

TEST(MeasureBreath, ARecorderDidNotLevelWhatSoundsUnlikeAtOnePitch) {
  synthesis::Random random(5);
  std::vector<MeantBlow> alike = testing::in_steps(8, {Blow::moderate, Blow::moderate, Blow::moderate});
  InventedTake take = testing::invent_take(alike, {}, random);
  for (std::size_t h = 0; h < take.naming.holds.size(); ++h)  // the player turns to the microphone
    take.naming.holds[h].hold.noise_db += 1.5 * static_cast<double>(h % 3);
  EXPECT_FALSE(testing::warned(measure_breath(take.naming, {three, {}}), WarningCode::levelled));
}

TEST(MeasureBreath, RoundsMayHideWarmingInTheSpread) {
  Circumstances warming;
  warming.warming_cents = 10;
  const BreathResult result = measured(testing::in_rounds(14, three), warming, 6);
  EXPECT_TRUE(testing::warned(result, WarningCode::warming_unseen));
  EXPECT_FALSE(result.drift.has_value());
  for (std::size_t n = 0; n < result.notes.size(); ++n)
    EXPECT_NEAR(result.notes[n].spread->cents, true_spread(static_cast<int>(n)), result.notes[n].spread->u95_cents);
}

TEST(MeasureBreath, AScalePlayedUpOnlyMayHideAColdFlute) {
  Circumstances warming;
  warming.warming_cents = 10;
  const std::vector<MeantBlow> up = testing::in_steps(14, three);
  const BreathResult result = measured(up, warming, 6);
  EXPECT_TRUE(testing::warned(result, WarningCode::warming_unseen));
  double last_cents = 20;
  for (std::size_t n = 0; n < result.notes.size(); ++n) {
    const NoteBreath& note = result.notes[n];
    const double warm_cents = testing::true_cents(static_cast<int>(n), 0.0) + warming.warming_cents;
    const double later_cents = note.later_warming_u95_cents.value();
    EXPECT_LT(later_cents, last_cents);  // the later a note, the less is to come
    EXPECT_NEAR(note.moderate.cents, warm_cents, std::hypot(later_cents, note.moderate.u95_cents) + 0.5);
    last_cents = later_cents;
  }
}

TEST(MeasureBreath, NothingIsAllowedForAWarmFluteOrOneWhoseRepeatsTell) {
  synthesis::Random random(6);
  BlowHint warm;
  warm.is_warm = true;
  const auto take = testing::invent_take(testing::in_steps(14, three), {}, random);
  const BreathResult said = measure_breath(take.naming, warm);
  EXPECT_FALSE(testing::warned(said, WarningCode::warming_unseen));
  for (const NoteBreath& note : said.notes) EXPECT_FALSE(note.later_warming_u95_cents.has_value());
  std::vector<MeantBlow> there_and_back = testing::in_steps(7, three);
  for (int note = 6; note >= 0; --note)
    for (const Blow blow : three) there_and_back.push_back({note, blow});
  const BreathResult repeated = measured(there_and_back, {}, 6);
  EXPECT_FALSE(testing::warned(repeated, WarningCode::warming_unseen));
  for (const NoteBreath& note : repeated.notes) EXPECT_FALSE(note.later_warming_u95_cents.has_value());
}

TEST(MeasureBreath, TransposingMovesEveryNoteAndGainMovesNone) {
  Circumstances sharp;
  sharp.cents = 37;
  sharp.gain_db = -9;
  const auto meant = testing::in_steps(8, three);
  const BreathResult plain = measured(meant, {}, 7), moved = measured(meant, sharp, 7);
  for (std::size_t n = 0; n < 8; ++n) {
    EXPECT_NEAR(moved.notes[n].moderate.cents - plain.notes[n].moderate.cents, 37.0, 1e-6);
    EXPECT_NEAR(moved.notes[n].spread->cents, plain.notes[n].spread->cents, 1e-6);
    EXPECT_NEAR(moved.notes[n].moderate.u95_cents, plain.notes[n].moderate.u95_cents, 1e-4);
  }
}

TEST(MeasureBreath, RepeatsTellHowWellTheLevelIsRepeated) {
  Circumstances loose;
  loose.loose_doublings = 0.15;
  const BreathResult result = measured(testing::there_and_back(14, three), loose, 8);
  ASSERT_TRUE(result.repeat_db.has_value());
  EXPECT_NEAR(*result.repeat_db, 0.15 * 3.4, 0.15);
  EXPECT_FALSE(measured(testing::in_steps(8, three), {}, 8).repeat_db.has_value());
}

}  // namespace
}  // namespace windway
