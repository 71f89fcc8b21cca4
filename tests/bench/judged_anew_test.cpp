// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/judged_anew.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "bench/bench_tally.hpp"
#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;

/// Four notes of a whistle's octave and their octaves, all judged by 5 cents.
BenchEntry entry_of(const std::vector<double>& cents) {
  BenchEntry entry = made_up_entry("A", cents);
  for (const EntryNote& note : entry.notes)
    entry.judged.push_back({{.criterion = Criterion::note,
                             .result = judged_within(note.moved->cents, note.moved->u95_cents, -5, 5),
                             .note = note.id,
                             .value = note.moved->cents,
                             .u95 = note.moved->u95_cents,
                             .lower = -5.0,
                             .upper = 5.0},
                            "as it was"});
  entry.result = result_of(entry.judged);
  return entry;
}

const std::vector<double> even{1, -2, 3, 0, 2, -1, 1, 0};
const std::vector<double> one_off{1, -2, 8, 0, 2, -1, 1, 0};

JudgeLimits tolerance(double cents) {
  JudgeLimits limits;
  limits.tolerance_cents = cents;
  return limits;
}

TEST(JudgedAnew, AWiderToleranceLetsPassWhatFailed) {
  ASSERT_EQ(entry_of(one_off).result, VerdictResult::fail);
  EXPECT_EQ(judged_anew(entry_of(one_off), tolerance(10)).result, VerdictResult::pass);
  EXPECT_EQ(judged_anew(entry_of(one_off), tolerance(8.2)).result, VerdictResult::too_close);
  EXPECT_EQ(judged_anew(entry_of(even), tolerance(2)).result, VerdictResult::fail);
}

TEST(JudgedAnew, LeavesWhatIsNotAskedAnewAsItWas) {
  JudgeLimits limits;
  limits.max_spread_cents = 20;
  BenchEntry entry = entry_of(one_off);
  for (EntryNote& note : entry.notes) note.spread = CentsEstimate{15, 1};
  entry = judged_anew(entry, limits);
  EXPECT_EQ(entry.result, VerdictResult::fail);
  EXPECT_EQ(entry.judged.front().message, "as it was");
  EXPECT_EQ(
      std::ranges::count_if(entry.judged, [](const auto& each) { return each.judged.criterion == Criterion::spread; }),
      8);
  EXPECT_EQ(judged_anew(entry_of(even), {}).result, VerdictResult::pass);
}

TEST(JudgedAnew, OfATakeOfWhichNothingWasAskedLeavesTheOctaveAndTheHeadOpen) {
  BenchEntry entry = entry_of(even);  // such a line has no octave and no place of the head
  entry.judged.clear();
  entry.result.reset();
  EXPECT_EQ(judged_anew(entry, tolerance(10)).result, VerdictResult::not_measured);
  EXPECT_EQ(judged_anew(entry, tolerance(1)).result, VerdictResult::fail);
  entry.warnings = {WarningCode::scale_doubtful};
  const BenchEntry doubted = judged_anew(entry, tolerance(1));
  EXPECT_EQ(doubted.result, VerdictResult::not_measured);
  EXPECT_FALSE(is_usable(doubted));
}

TEST(JudgedAnew, LeavesOptionalNotesOut) {
  BenchEntry entry = entry_of(even);
  entry.notes[3].weight = 0;
  entry.notes[3].moved->cents = 40;
  entry.judged.erase(entry.judged.begin() + 3);
  EXPECT_EQ(judged_anew(entry, tolerance(10)).result, VerdictResult::pass);
}

TEST(JudgedAnew, AsksAnewWhereTheHeadRests) {
  BenchEntry entry = entry_of(even);
  entry.head_rests_mm = 6.5;
  entry.head_rests_u95_mm = 0.1;
  JudgeLimits limits;
  limits.head_out_range_mm = HeadRange{2, 6};
  EXPECT_EQ(judged_anew(entry, limits).result, VerdictResult::fail);
  limits.head_out_range_mm = HeadRange{2, 7};
  EXPECT_EQ(judged_anew(entry, limits).result, VerdictResult::pass);
  entry.head_rests_mm.reset();
  EXPECT_EQ(judged_anew(entry, limits).result, VerdictResult::not_measured);
}

TEST(JudgedAnew, DropsTheWorkThatWasAdvisedByAnotherTolerance) {
  BenchEntry entry = entry_of(one_off);
  entry.work = {{true, "open the hole"}};
  EXPECT_TRUE(judged_anew(entry, tolerance(10)).work.empty());
}

TEST(JudgedAnew, AnOctaveLimitFollowsTheToleranceUnlessItIsOnesOwn) {
  BenchEntry entry = entry_of(even);
  entry.octave = CentsEstimate{15, 0.5};
  const auto judged_octave = [&](double limit) {
    BenchEntry with = entry;
    with.judged.push_back({{.criterion = Criterion::octave,
                            .result = judged_within(15, 0.5, -limit, limit),
                            .value = 15.0,
                            .u95 = 0.5,
                            .lower = -limit,
                            .upper = limit},
                           ""});
    return judged_anew(with, tolerance(20)).result;
  };
  EXPECT_EQ(judged_octave(10), VerdictResult::pass);  // twice the 5 cents of before
  EXPECT_EQ(judged_octave(12), VerdictResult::fail);
}

TEST(JudgedAnew, NeverMeasuresWhatCouldNotBe) {
  BenchEntry entry;
  entry.error = "cannot read it";
  EXPECT_EQ(judged_anew(entry, tolerance(200)).result, VerdictResult::not_measured);
  entry = entry_of(even);
  entry.judged = {{{.criterion = Criterion::take, .result = VerdictResult::not_measured}, "doubted"}};
  EXPECT_EQ(judged_anew(entry, tolerance(200)).result, VerdictResult::not_measured);
}

TEST(JudgedAnew, AHeadThatStoppedAtItsEndIsJudgedByWhatItReaches) {
  BenchEntry entry = entry_of(even);
  entry.limit = SlideLimit::travel;
  entry.end_a4_hz = 443.0;  // 11.8 cents sharp of 440
  EXPECT_EQ(judged_anew(entry, tolerance(10)).result, VerdictResult::fail);
  EXPECT_EQ(judged_anew(entry, tolerance(14)).result, VerdictResult::pass);
}

}  // namespace
}  // namespace windway
