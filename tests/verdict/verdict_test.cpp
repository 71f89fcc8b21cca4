// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/verdict.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "bench/made_up_measurement.hpp"

namespace windway {
namespace {

using batch_tests::made_up_measurement;

std::vector<Judged> of(Criterion criterion, const Verdict& verdict) {
  std::vector<Judged> found;
  std::ranges::copy_if(verdict.judged, std::back_inserter(found),
                       [&](const Judged& each) { return each.criterion == criterion; });
  return found;
}

Verdict judged_by_tolerance(const Measurement& measurement, double tolerance_cents) {
  return judge(measurement, {.tolerance_cents = tolerance_cents});
}

TEST(JudgedWithin, PassesAnIntervalThatJustTouchesItsLimits) {
  EXPECT_EQ(judged_within(9.5, 0.5, -10, 10), VerdictResult::pass);
  EXPECT_EQ(judged_within(-9.5, 0.5, -10, 10), VerdictResult::pass);
  EXPECT_EQ(judged_within(0, 10, -10, 10), VerdictResult::pass);
}

TEST(JudgedWithin, FailsOnlyAnIntervalWhollyBeyondALimit) {
  EXPECT_EQ(judged_within(10.75, 0.5, -10, 10), VerdictResult::fail);
  EXPECT_EQ(judged_within(-10.75, 0.5, -10, 10), VerdictResult::fail);
  EXPECT_EQ(judged_within(10.5, 0.5, -10, 10), VerdictResult::too_close);  // its end still lies on the limit
  EXPECT_EQ(judged_within(-10.5, 0.5, -10, 10), VerdictResult::too_close);
}

TEST(JudgedWithin, IsTooCloseToCallWhereTheIntervalStraddlesALimit) {
  EXPECT_EQ(judged_within(9.75, 0.5, -10, 10), VerdictResult::too_close);
  EXPECT_EQ(judged_within(0, 10.5, -10, 10), VerdictResult::too_close);
}

TEST(WorstOf, PutsFailBeforeNotMeasuredBeforeTooCloseBeforePass) {
  std::vector<Judged> judged;
  EXPECT_EQ(worst_of(judged), VerdictResult::not_measured);
  for (const VerdictResult next :
       {VerdictResult::pass, VerdictResult::too_close, VerdictResult::not_measured, VerdictResult::fail}) {
    judged.insert(judged.begin() + static_cast<std::ptrdiff_t>(judged.size() / 2), {.result = next});
    EXPECT_EQ(worst_of(judged), next);
  }
}

TEST(LimitsFor, TakesTheCallBeforeTheInstrument) {
  Instrument instrument;
  instrument.tolerance_cents = 20;
  instrument.max_spread_cents = 50;
  instrument.max_octave_cents = 9;
  instrument.head_out_range_mm = HeadRange{2, 8};
  const JudgeLimits theirs = limits_for({.every_note = true}, instrument);
  EXPECT_EQ(theirs.tolerance_cents, 20);
  EXPECT_EQ(theirs.max_spread_cents, 50);
  EXPECT_EQ(theirs.max_octave_cents, 9);
  EXPECT_EQ(theirs.head_out_range_mm.value().max_mm, 8);
  EXPECT_TRUE(theirs.every_note);
  const JudgeLimits said{
      .tolerance_cents = 1, .max_spread_cents = 2, .max_octave_cents = 3, .head_out_range_mm = HeadRange{4, 5}};
  const JudgeLimits ours = limits_for(said, instrument);
  EXPECT_EQ(ours.tolerance_cents, 1);
  EXPECT_EQ(ours.max_spread_cents, 2);
  EXPECT_EQ(ours.max_octave_cents, 3);
  EXPECT_EQ(ours.head_out_range_mm.value().min_mm, 4);
  EXPECT_EQ(limits_for(said, std::nullopt).tolerance_cents, 1);
}

TEST(AsksAnything, IsTrueOfEachLimitAlone) {
  EXPECT_FALSE(asks_anything({.every_note = true}));
  EXPECT_TRUE(asks_anything({.tolerance_cents = 1}));
  EXPECT_TRUE(asks_anything({.max_spread_cents = 1}));
  EXPECT_TRUE(asks_anything({.max_octave_cents = 1}));
  EXPECT_TRUE(asks_anything({.head_out_range_mm = HeadRange{}}));
}

TEST(Judge, HoldsEachNoteAgainstTheTolerance) {
  const auto measurement = made_up_measurement({{74, 9.5}, {76, -9.75}, {78, 12.0}, {79, 0.0}});
  const Verdict verdict = judged_by_tolerance(measurement, 10);
  const auto notes = of(Criterion::note, verdict);
  ASSERT_EQ(notes.size(), 4U);
  EXPECT_EQ(notes[0].result, VerdictResult::pass);
  EXPECT_EQ(notes[1].result, VerdictResult::too_close);
  EXPECT_EQ(notes[2].result, VerdictResult::fail);
  EXPECT_EQ(notes[2].note->midi, 78);
  EXPECT_EQ(notes[2].value, 12.0);
  EXPECT_EQ(notes[2].lower, -10.0);
  EXPECT_EQ(notes[2].upper, 10.0);
  EXPECT_EQ(verdict.result, VerdictResult::fail);
}

TEST(Judge, TakesANotesOwnToleranceForItAlone) {
  auto measurement = made_up_measurement({{74, 12.0}, {76, 12.0}});
  measurement.naming.instrument.scale[1].tolerance_cents = 15;
  const auto notes = of(Criterion::note, judged_by_tolerance(measurement, 10));
  EXPECT_EQ(notes[0].result, VerdictResult::fail);
  EXPECT_EQ(notes[1].result, VerdictResult::pass);
  EXPECT_EQ(notes[1].upper, 15.0);
}

TEST(Judge, LeavesOutNotesOfNoWeight) {
  auto measurement = made_up_measurement({{74, 0.0}, {75, 80.0}});
  measurement.breath.notes[1].weight = 0;
  measurement.breath.notes[1].spread = CentsEstimate{200, 1};
  measurement.naming.instrument.scale[1].weight = 0;
  const Verdict verdict = judge(measurement, {.tolerance_cents = 10, .max_spread_cents = 50, .every_note = true});
  EXPECT_EQ(of(Criterion::note, verdict).size(), 1U);
  EXPECT_EQ(of(Criterion::spread, verdict).size(), 1U);
  EXPECT_EQ(verdict.evenness_cents, 0.0);
}

TEST(Judge, AsksOfASpreadNoLeast) {
  auto measurement = made_up_measurement({{74}, {76}, {78}, {79}});
  measurement.breath.notes[0].spread = CentsEstimate{-20, 5};  // steadier than steady is no fault
  measurement.breath.notes[1].spread = CentsEstimate{48, 2};
  measurement.breath.notes[2].spread = CentsEstimate{49, 2};
  measurement.breath.notes[3].spread = CentsEstimate{53, 2};
  const auto spreads = of(Criterion::spread, judge(measurement, {.max_spread_cents = 50}));
  ASSERT_EQ(spreads.size(), 4U);
  EXPECT_EQ(spreads[0].result, VerdictResult::pass);
  EXPECT_EQ(spreads[1].result, VerdictResult::pass);
  EXPECT_EQ(spreads[2].result, VerdictResult::too_close);
  EXPECT_EQ(spreads[3].result, VerdictResult::fail);
  EXPECT_FALSE(spreads[3].lower);
  EXPECT_EQ(spreads[3].upper, 50.0);
}

TEST(Judge, TakesANotesOwnSpreadBeforeTheInstrumentsAndTheCalls) {
  auto measurement = made_up_measurement({{74}, {76}});
  for (NoteBreath& note : measurement.breath.notes) note.spread = CentsEstimate{40, 2};
  measurement.naming.instrument.scale[1].max_spread_cents = 30;
  const auto by_both = of(Criterion::spread, judge(measurement, {.max_spread_cents = 50}));
  ASSERT_EQ(by_both.size(), 2U);
  EXPECT_EQ(by_both[0].result, VerdictResult::pass);
  EXPECT_EQ(by_both[1].result, VerdictResult::fail);
  EXPECT_EQ(by_both[1].upper, 30.0);
  const JudgeLimits by_note_alone = limits_for({}, measurement.naming.instrument);
  EXPECT_TRUE(asks_anything(by_note_alone));
  const auto alone = of(Criterion::spread, judge(measurement, by_note_alone));
  ASSERT_EQ(alone.size(), 1U);
  EXPECT_EQ(alone[0].note->midi, 76);
}

TEST(Judge, SaysThatASpreadThatWasNotBlownWasNotMeasured) {
  const auto measurement = made_up_measurement({{74}});
  const Verdict verdict = judge(measurement, {.max_spread_cents = 50});
  const auto spreads = of(Criterion::spread, verdict);
  ASSERT_EQ(spreads.size(), 1U);
  EXPECT_EQ(spreads[0].result, VerdictResult::not_measured);
  EXPECT_FALSE(spreads[0].value);
  EXPECT_FALSE(spreads[0].why.empty());
  EXPECT_EQ(verdict.result, VerdictResult::not_measured);
}

TEST(Judge, DoesNotJudgeATakeWhoseScaleIsDoubtfulOrFarOff) {
  for (const WarningCode code : {WarningCode::scale_doubtful, WarningCode::scale_far_off}) {
    auto measurement = made_up_measurement({{74, 50.0}});
    measurement.warnings = {{WarningCode::clipped, "x"}, {code, "it may be in another key"}};
    const Verdict verdict = judged_by_tolerance(measurement, 10);
    EXPECT_EQ(verdict.result, VerdictResult::not_measured) << text_of(code);
    ASSERT_EQ(verdict.judged.size(), 1U);
    EXPECT_EQ(verdict.judged[0].criterion, Criterion::take);
    EXPECT_EQ(verdict.judged[0].why, "it may be in another key");
  }
}

TEST(Judge, MeasuresNothingWhereNoNoteWasHeld) {
  auto measurement = made_up_measurement({});
  measurement.compromise.reset();
  EXPECT_EQ(judged_by_tolerance(measurement, 10).result, VerdictResult::not_measured);
}

TEST(Judge, NamesEachMissingNoteWhereAllMustBeHeard) {
  auto measurement = made_up_measurement({{74}, {76}, {78}});
  measurement.breath.notes.erase(measurement.breath.notes.begin() + 1);
  measurement.compromise->notes.pop_back();
  const Verdict verdict = judge(measurement, {.tolerance_cents = 10, .every_note = true});
  const auto heard = of(Criterion::heard, verdict);
  ASSERT_EQ(heard.size(), 1U);
  EXPECT_EQ(heard[0].note->midi, 76);
  EXPECT_EQ(heard[0].result, VerdictResult::not_measured);
  EXPECT_EQ(verdict.result, VerdictResult::not_measured);
  EXPECT_EQ(judged_by_tolerance(measurement, 10).result, VerdictResult::pass);
}

/// Of whose scale of `wanted` notes only the first `held` were.
Measurement partly_held(std::size_t wanted, std::size_t held) {
  std::vector<batch_tests::MadeUpNote> notes;
  for (std::size_t i = 0; i < wanted; ++i) notes.push_back({74 + static_cast<int>(i)});
  auto measurement = made_up_measurement(notes);
  measurement.breath.notes.resize(held);
  measurement.compromise->notes.resize(held);
  return measurement;
}

TEST(Judge, WantsHalfOfAScaleHeard) {
  // Of 13 semitones eight are of the major scale.
  EXPECT_EQ(judged_by_tolerance(partly_held(13, 4), 10).result, VerdictResult::pass);
  const Verdict verdict = judged_by_tolerance(partly_held(13, 3), 10);
  EXPECT_EQ(verdict.result, VerdictResult::not_measured);
  EXPECT_EQ(of(Criterion::take, verdict).size(), 1U);
  EXPECT_TRUE(of(Criterion::heard, verdict).empty());
}

TEST(Judge, CountsANoteOnceHoweverManyFingeringsItHas) {
  auto measurement = partly_held(13, 3);
  auto& scale = measurement.naming.instrument.scale;
  for (int midi = 74; midi < 87; ++midi) {
    const auto usual = std::ranges::find(scale, NoteId{midi}, &ScaleNote::id);
    ScaleNote vented = *usual;
    vented.id.fingering = "vented";
    scale.insert(usual + 1, vented);
  }
  EXPECT_EQ(judged_by_tolerance(measurement, 10).result, VerdictResult::not_measured);  // 3 of 8, not 16 of 16
}

}  // namespace
}  // namespace windway
