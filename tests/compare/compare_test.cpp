// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/compare.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "analysis/measured_take.hpp"
#include "support/plan.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr int lowest = 74;

/// The first octave, each note soft, moderate and hard; no two blows are quite alike.
Measurement played(const FluteModel& flute, std::uint64_t seed) {
  Random random(seed);
  auto plan = note_by_note(major_scale(lowest, 12), {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  for (Blowing& blowing : plan) {
    const double off = random.normal(0.0, 0.04);
    blowing.from_doublings += off;
    blowing.to_doublings += off;
  }
  const SyntheticTake take = synthesise_take(flute, plan, {}, random);
  return test::measured(take.samples, take.rate_hz);
}

FluteModel flute_of(std::uint64_t seed) {
  Random random(seed);
  return draw_flute({.overall_cents = random.uniform(0, 20)}, random);
}

double true_change_cents(const FluteModel& flute, int midi, double out_mm) {
  const NoteModel& note = note_of(flute, midi);
  const double hz = hz_at_cents(target_hz(flute, midi), cents_at(note, 0.0));
  return slide_cents(effective_length_mm(note.register_number, hz), out_mm);
}

TEST(Compare, HoldsTheTruthAtOneTwoAndFourMillimetres) {
  const FluteModel flute = flute_of(21);
  const Measurement before = played(flute, 2100);
  for (const double out_mm : {1.0, 2.0, 4.0}) {
    const Comparison found =
        compare(before, played(drawn_out(flute, out_mm), 2200 + static_cast<std::uint64_t>(out_mm)), {out_mm});
    ASSERT_EQ(found.notes.size(), 8U);
    double true_mean = 0;
    for (const NoteChange& note : found.notes) true_mean += true_change_cents(flute, note.note.midi, out_mm) / 8.0;
    EXPECT_NEAR(found.mean_change.cents, true_mean, found.mean_change.u95_cents) << out_mm;
    ASSERT_TRUE(found.move);
    EXPECT_NEAR(found.move->factor.factor, 1.0, found.move->factor.u95) << out_mm;
    if (out_mm == 4.0) {
      EXPECT_NEAR(found.move->factor.factor, 1.0, 0.02);
      EXPECT_TRUE(found.move->is_telling);
    }
  }
}

TEST(CompareSlow, HoldsTheTruthNineteenTimesInTwenty) {
  int held = 0, notes = 0, means_held = 0, factors_held = 0, factors_near = 0;
  constexpr int pairs = 60;
  for (std::uint64_t pair = 0; pair < pairs; ++pair) {
    const std::uint64_t seed = 1000 + 10 * pair;
    const FluteModel flute = flute_of(seed);
    const Comparison found = compare(played(flute, seed + 1), played(drawn_out(flute, 4.0), seed + 2), {4.0});
    for (const NoteChange& note : found.notes) {
      const double off = note.change.cents - true_change_cents(flute, note.note.midi, 4.0);
      held += std::abs(off) <= note.change.u95_cents ? 1 : 0;
      ++notes;
    }
    double true_mean = 0;
    for (const NoteChange& note : found.notes) true_mean += true_change_cents(flute, note.note.midi, 4.0) / 8.0;
    means_held += std::abs(found.mean_change.cents - true_mean) <= found.mean_change.u95_cents ? 1 : 0;
    factors_held += std::abs(found.move->factor.factor - 1.0) <= found.move->factor.u95 ? 1 : 0;
    factors_near += std::abs(found.move->factor.factor - 1.0) <= 0.02 ? 1 : 0;
  }
  EXPECT_GE(held, 0.93 * notes) << held << " of " << notes;
  EXPECT_GE(factors_held, 0.93 * pairs);
  EXPECT_GE(factors_near, 0.95 * pairs);
  EXPECT_GE(means_held, 0.93 * pairs);
}

TEST(Compare, OfTwoTakesOfTheSameSettingSaysHowWellThePlayerRepeats) {
  const FluteModel flute = flute_of(12);
  const Comparison found = compare(played(flute, 301), played(flute, 302), {{}, true});
  ASSERT_TRUE(found.repeat);
  EXPECT_FALSE(found.move);
  EXPECT_GT(found.repeat->note_sd_cents, 0.05);  // 0.04 doublings of 10 to 40 cents each
  EXPECT_LT(found.repeat->note_sd_cents, 2.0);
  EXPECT_NEAR(found.repeat->together.cents, 0.0, found.repeat->together.u95_cents);
}

TEST(Compare, OfATakeWithItselfFindsNoChange) {
  const Measurement take = played(flute_of(13), 400);
  const Comparison found = compare(take, take, {});
  for (const NoteChange& note : found.notes) {
    EXPECT_EQ(note.change.cents, 0.0);
    EXPECT_FALSE(note.is_real);
    ASSERT_TRUE(note.spread_change && note.wander_before_cents);
    EXPECT_EQ(note.spread_change->cents, 0.0);
    EXPECT_GT(*note.wander_before_cents, 0.0);
  }
}

TEST(Compare, OfOneRecordingSaysSoAndStatesNoRepeat) {
  Measurement take = played(flute_of(13), 400);
  take.takes.front().sha256 = "c0ffee";
  const Comparison found = compare(take, take, {{}, true});
  EXPECT_TRUE(find_warning(found.warnings, WarningCode::same_recording));
  EXPECT_FALSE(found.repeat);
}

TEST(Compare, OfAMoveTheOtherWayAsksAndKeepsNoFactor) {
  const FluteModel flute = flute_of(21);
  const Comparison found = compare(played(flute, 2100), played(drawn_out(flute, 4.0), 2101), {-4.0});
  const Warning* asked = find_warning(found.warnings, WarningCode::move_contradicted);
  ASSERT_TRUE(asked);
  EXPECT_NE(asked->message.find("say --drawn-out 4 instead"), std::string::npos) << asked->message;
  EXPECT_FALSE(found.move->is_telling);
}

TEST(Compare, OfAMoveThatNoHeadMakesAsksAndKeepsNoFactor) {
  const FluteModel flute = flute_of(21);
  const Comparison found = compare(played(flute, 2100), played(drawn_out(flute, 6.0), 2101), {4.0});
  const Warning* asked = find_warning(found.warnings, WarningCode::move_implausible);
  ASSERT_TRUE(asked);
  EXPECT_NE(asked->message.find("not 4. Check how far"), std::string::npos) << asked->message;
  EXPECT_FALSE(found.move->is_telling);
}

TEST(Compare, OfAMoveThatIsLostInTheBlowingAsksForALargerOne) {
  const FluteModel flute = flute_of(21);
  const Comparison found = compare(played(flute, 2100), played(drawn_out(flute, 0.3), 2101), {0.3});
  const Warning* asked = find_warning(found.warnings, WarningCode::move_too_small);
  ASSERT_TRUE(asked);
  EXPECT_NE(asked->message.find("Move the head by 4 mm or more"), std::string::npos) << asked->message;
  EXPECT_FALSE(found.move->is_telling);
}

TEST(Compare, OfTwoTemperaturesSaysThatTheChangeIncludesThemUnlessBothAreQuotedAtOne) {
  const Measurement cold = played(flute_of(13), 400);
  Measurement warm = cold;
  warm.settings.air.temperature_c += 5.0;
  EXPECT_TRUE(find_warning(compare(cold, warm, {}).warnings, WarningCode::other_temperature));
  EXPECT_FALSE(find_warning(compare(cold, cold, {}).warnings, WarningCode::other_temperature));
  Measurement quoted = cold;
  quoted.settings.quote_at_c = 25.0;
  EXPECT_FALSE(find_warning(compare(quoted, warm, {}).warnings, WarningCode::other_temperature));
}

TEST(Compare, NoticesAnotherFluteOfTheSameScaleAndNeverTakesTheSameForOne) {
  int noticed = 0, taken_for_another = 0;
  for (std::uint64_t pair = 0; pair < 12; ++pair) {
    const FluteModel flute = flute_of(700 + pair);
    const Measurement before = played(flute, 7000 + pair);
    const auto warns = [&](const Measurement& after) {
      return find_warning(compare(before, after, {}).warnings, WarningCode::other_instrument) != nullptr;
    };
    noticed += warns(played(flute_of(800 + pair), 8000 + pair)) ? 1 : 0;
    taken_for_another += warns(played(drawn_out(flute, 3.0), 9000 + pair)) ? 1 : 0;
  }
  EXPECT_EQ(taken_for_another, 0);
  EXPECT_GE(noticed, 4);  // flutes of one maker can be alike within what a player's breath makes
}

TEST(Compare, OfInstrumentsOfTwoKindsAsksForTheirNames) {
  const Measurement whistle = played(flute_of(13), 400);
  Measurement recorder = whistle;
  recorder.naming.instrument.kind = Kind::recorder;
  const Comparison found = compare(whistle, recorder, {});
  const Warning* asked = find_warning(found.warnings, WarningCode::other_instrument);
  ASSERT_TRUE(asked);
  EXPECT_NE(asked->message.find("say --kind and --lowest"), std::string::npos) << asked->message;
}

TEST(Compare, AgainstAnotherReferencePitchStillComparesThePitches) {
  const FluteModel flute = flute_of(14);
  const Measurement before = played(flute, 500);
  Measurement after = before;
  for (NoteBreath& note : after.breath.notes) {  // the same sounds against A4 = 442 Hz
    const double raised_cents = cents_between(440.0, 442.0);
    note.target_hz = hz_at_cents(note.target_hz, raised_cents);
    note.moderate.cents -= raised_cents;
  }
  for (const NoteChange& note : compare(before, after, {}).notes) EXPECT_NEAR(note.change.cents, 0.0, 1e-9);
}

TEST(Compare, SaysWhichNotesAreInOneTakeOnlyAndRefusesWhereNoneIsInBoth) {
  const Measurement whole = played(flute_of(15), 600);
  Measurement part = whole;
  part.breath.notes.erase(part.breath.notes.begin());
  const Comparison found = compare(whole, part, {});
  EXPECT_EQ(found.only_before, std::vector{NoteId{lowest}});
  EXPECT_TRUE(found.only_after.empty());
  part.breath.notes.clear();
  EXPECT_THROW(compare(whole, part, {}), Error);
}

}  // namespace
}  // namespace windway
