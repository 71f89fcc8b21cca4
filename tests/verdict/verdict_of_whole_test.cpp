// SPDX-License-Identifier: GPL-3.0-or-later
// What is judged of an instrument as a whole: where its head rests, what A4 it reaches, its octaves, its evenness.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "bench/made_up_measurement.hpp"
#include "verdict/evenness.hpp"
#include "verdict/verdict.hpp"

namespace windway {
namespace {

using batch_tests::made_up_measurement;

std::optional<Judged> first_of(Criterion criterion, const Verdict& verdict) {
  const auto found = std::ranges::find(verdict.judged, criterion, &Judged::criterion);
  return found != verdict.judged.end() ? std::optional(*found) : std::nullopt;
}

constexpr double asked_mm = 5.0;

/// The head's place judged within 2 to 8 mm, the move being `slide_mm` from 5 mm out, its u95 0.5 mm in all.
Verdict moved_by(double slide_mm, std::optional<double> out_mm = asked_mm) {
  auto measurement = made_up_measurement({{74}});
  measurement.settings.head.out_mm = out_mm;
  measurement.compromise->slide_mm = slide_mm;
  return judge(measurement, {.head_out_range_mm = HeadRange{2, 8}});
}

TEST(HeadPlace, IsWhereTheMoveTakesTheHead) {
  const Verdict verdict = moved_by(1.5);
  EXPECT_DOUBLE_EQ(verdict.head_rests_mm.value(), 6.5);
  EXPECT_DOUBLE_EQ(verdict.head_rests_u95_mm.value(), 0.5);  // 0.3 and 0.4 as squares
  EXPECT_EQ(verdict.result, VerdictResult::pass);
}

TEST(HeadPlace, PassesFailsOrIsTooCloseByItsRange) {
  EXPECT_EQ(moved_by(2.5).result, VerdictResult::pass);
  EXPECT_EQ(moved_by(2.75).result, VerdictResult::too_close);
  EXPECT_EQ(moved_by(3.75).result, VerdictResult::fail);
  EXPECT_EQ(moved_by(-2.5).result, VerdictResult::pass);
  EXPECT_EQ(moved_by(-3.75).result, VerdictResult::fail);
}

TEST(HeadPlace, IsNotMeasuredWhereNobodySaidWhereTheHeadWas) {
  const Verdict verdict = moved_by(1.0, std::nullopt);
  EXPECT_EQ(verdict.result, VerdictResult::not_measured);
  EXPECT_FALSE(verdict.head_rests_mm);
}

TEST(HeadPlace, OfAFixedHeadCannotBeJudgedAndThatIsTold) {
  auto measurement = made_up_measurement({{74}});
  measurement.settings.head.moves = false;
  const Verdict verdict = judge(measurement, {.tolerance_cents = 10, .head_out_range_mm = HeadRange{8, 9}});
  const auto judged = first_of(Criterion::head_place, verdict);
  ASSERT_TRUE(judged);
  EXPECT_FALSE(judged->why.empty());
  EXPECT_FALSE(verdict.head_rests_mm);
  EXPECT_EQ(verdict.result, VerdictResult::not_measured);
}

TEST(HeadPlace, IsNotTakenOnTrustWhereTheHeadMustBePushedIn) {
  auto measurement = made_up_measurement({{74}});
  measurement.settings.head.out_mm.reset();
  measurement.compromise->slide_mm = -0.75;
  EXPECT_EQ(judge(measurement, {.tolerance_cents = 10}).result, VerdictResult::not_measured);
  measurement.compromise->slide_mm = -0.5;  // no more than its u95: as it stands will do
  EXPECT_EQ(judge(measurement, {.tolerance_cents = 10}).result, VerdictResult::pass);
  measurement.compromise->slide_mm = 9;  // there is always room to draw out
  EXPECT_EQ(judge(measurement, {.tolerance_cents = 10}).result, VerdictResult::pass);
}

/// Judged by 10 cents, the head at `limit`, where A4 is off by `off_cents`.
Verdict at_limit(SlideLimit limit, double off_cents) {
  auto measurement = made_up_measurement({{74}});
  measurement.compromise->limit = limit;
  measurement.compromise->shift_u95_cents = 1;
  const double end_hz = hz_at_cents(440, off_cents);
  (limit == SlideLimit::fully_in ? measurement.compromise->highest_a4_hz : measurement.compromise->lowest_a4_hz) =
      end_hz;
  return judge(measurement, {.tolerance_cents = 10});
}

TEST(ReachOfA4, FailsABodyThatIsFlatFullyIn) {
  const Judged reach = first_of(Criterion::reach_of_a4, at_limit(SlideLimit::fully_in, -14)).value();
  EXPECT_EQ(reach.result, VerdictResult::fail);
  EXPECT_NEAR(reach.value.value(), -14, 1e-9);
  EXPECT_EQ(reach.u95, 1);
  EXPECT_EQ(at_limit(SlideLimit::fully_in, -10.5).result, VerdictResult::too_close);
  EXPECT_EQ(at_limit(SlideLimit::fully_in, -8.5).result, VerdictResult::pass);
}

TEST(ReachOfA4, FailsABodyThatIsSharpAtTheEndOfTheTravel) {
  const Judged reach = first_of(Criterion::reach_of_a4, at_limit(SlideLimit::travel, 14)).value();
  EXPECT_EQ(reach.result, VerdictResult::fail);
  EXPECT_NEAR(reach.value.value(), 14, 1e-9);
  EXPECT_EQ(at_limit(SlideLimit::travel, 8.5).result, VerdictResult::pass);
}

TEST(ReachOfA4, IsNotAskedOfAHeadThatIsAtNoLimit) {
  auto measurement = made_up_measurement({{74}});
  measurement.compromise->lowest_a4_hz = 420;
  measurement.compromise->highest_a4_hz = 450;
  EXPECT_FALSE(first_of(Criterion::reach_of_a4, judge(measurement, {.tolerance_cents = 10})));
}

/// Two pairs: the upper notes `wide_cents` above the lower ones on the mean.
Measurement octaves(double wide_cents) {
  return made_up_measurement(
      {{74, 1.0, 3}, {76, -1.0, 4}, {86, 1.0 + wide_cents - 2, 3, 2}, {88, -1.0 + wide_cents + 2, 4, 2}});
}

TEST(OctaveRelation, IsTheMeanOverPairsWithTheirUncertaintiesAsSquares) {
  const OctaveRelation relation = octave_relation(octaves(7)).value();
  EXPECT_EQ(relation.pairs, 2);
  EXPECT_NEAR(relation.wide.cents, 7, 1e-12);
  EXPECT_NEAR(relation.wide.u95_cents, std::sqrt(9.0 + 9 + 16 + 16) / 2, 1e-12);
}

TEST(OctaveRelation, PairsOnlyNeighbouringRegistersOfUsualFingeringsThatCount) {
  EXPECT_FALSE(octave_relation(made_up_measurement({{74}, {86}})));               // the same register
  EXPECT_FALSE(octave_relation(made_up_measurement({{74}, {86, 0.0, 0.5, 3}})));  // one register skipped
  EXPECT_FALSE(octave_relation(made_up_measurement({{74}, {88, 0.0, 0.5, 2}})));  // no octave
  auto weightless = octaves(7);
  for (auto& note : weightless.breath.notes) note.weight = note.register_number == 2 ? 0 : 1;
  EXPECT_FALSE(octave_relation(weightless));
  auto vented = octaves(7);
  for (auto& note : vented.breath.notes) note.id.fingering = note.register_number == 2 ? "vented" : "";
  EXPECT_FALSE(octave_relation(vented));
}

TEST(Octave, MayBeTwiceTheToleranceOffWhereNothingElseIsSaid) {
  const auto result = [](double wide_cents, const JudgeLimits& limits) {
    return first_of(Criterion::octave, judge(octaves(wide_cents), limits)).value();
  };
  EXPECT_EQ(result(16, {.tolerance_cents = 10}).result, VerdictResult::pass);  // u95 3.5
  EXPECT_EQ(result(16, {.tolerance_cents = 10}).upper, 20.0);
  EXPECT_EQ(result(-24, {.tolerance_cents = 10}).result, VerdictResult::fail);
  EXPECT_EQ(result(16, {.tolerance_cents = 10, .max_octave_cents = 12}).result, VerdictResult::fail);
  EXPECT_EQ(result(8, {.max_octave_cents = 12}).result, VerdictResult::pass);
}

TEST(Octave, IsNotJudgedOfOneRegisterNorWhereNothingIsAsked) {
  EXPECT_FALSE(first_of(Criterion::octave, judge(made_up_measurement({{74}, {76}}), {.tolerance_cents = 10})));
  EXPECT_FALSE(first_of(Criterion::octave, judge(octaves(90), {.max_spread_cents = 10})));
}

TEST(Evenness, IsTheRootMeanSquareOfWhatIsLeft) {
  EXPECT_NEAR(evenness_cents(made_up_measurement({{74, 3.0}, {76, -4.0}})).value(), std::sqrt(12.5), 1e-12);
  EXPECT_FALSE(evenness_cents(made_up_measurement({})));
}

TEST(WorstStep, IsTheLargestBetweenNeighboursEitherWay) {
  const UnevenStep step = worst_step(made_up_measurement({{74, 5.0}, {76, 0.0}, {78, 9.0}, {79, -2.0}})).value();
  EXPECT_EQ(step.from.midi, 78);
  EXPECT_EQ(step.to.midi, 79);
  EXPECT_NEAR(step.wide_cents, -11, 1e-12);
  EXPECT_FALSE(worst_step(made_up_measurement({{74, 5.0}})));
}

}  // namespace
}  // namespace windway
