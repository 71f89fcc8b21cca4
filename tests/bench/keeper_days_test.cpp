// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/keeper_days.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "bench/judged_anew.hpp"
#include "bench/made_up_entry.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::with_tolerance;

BenchEntry keeper(const std::string& day, double cents) {
  BenchEntry entry = made_up_entry("HW-0001", {0.0}, day);
  entry.home_a4_hz = hz_at_cents(440.0, cents);
  return entry;
}

/// A cold day, 6 cents flat, and a warm one, each with two takes that differ by 1 cent.
KeeperOffsets two_days() {
  KeeperDays days;
  for (const double cents : {-6.5, -5.5}) days.add(keeper("2026-03-02T08:00", cents));
  for (const double cents : {-0.5, 0.5}) days.add(keeper("2026-03-03T08:00", cents));
  return days.offsets();
}

TEST(KeeperDaysOffsets, AreAboutTheMeanOfTheDays) {
  const KeeperOffsets offsets = two_days();
  ASSERT_EQ(offsets.size(), 2U);
  EXPECT_NEAR(offsets.at("2026-03-02").cents, -3.0, 1e-9);
  EXPECT_NEAR(offsets.at("2026-03-03").cents, 3.0, 1e-9);
  // SD within a day sqrt(1/2), of two degrees (Student's t 4.303); half the difference of two means of two takes.
  EXPECT_NEAR(offsets.at("2026-03-02").u95_cents, 4.303 * std::sqrt(0.5) * 0.5, 0.001);
}

TEST(KeeperDaysOffsets, OfOneTakeADayAreAsSureAsItWasMeasured) {
  KeeperDays days;
  for (const auto& [day, cents] : {std::pair("2026-03-02", -6.0), std::pair("2026-03-03", 0.0)}) {
    BenchEntry take = keeper(day, cents);
    take.shift_u95_cents = cents < 0 ? 0.4 : 0.7;
    days.add(take);
  }
  EXPECT_NEAR(days.offsets().at("2026-03-02").u95_cents, 0.7 / std::sqrt(2.0), 1e-12);
}

TEST(KeeperDaysOffsets, OfOneDayAreNone) {
  KeeperDays days;
  days.add(keeper("2026-03-02", 3.0));
  days.add(keeper("2026-03-02", 4.0));
  EXPECT_TRUE(days.offsets().empty());
  EXPECT_TRUE(KeeperDays().offsets().empty());
}

EntryJudged judged_of(Criterion criterion, double cents) {
  return {{.criterion = criterion,
           .result = judged_within(cents, 0.5, -4, 4),
           .value = cents,
           .u95 = 0.5,
           .lower = -4.0,
           .upper = 4.0},
          ""};
}

TEST(ByKeeper, WhatTheNotesAndTheReachWereJudgedByIsJudgedAgain) {
  BenchEntry entry = made_up_entry("A", {-6.0, -6.0}, "2026-03-02T10:00");
  entry.limit = SlideLimit::fully_in;
  entry.end_a4_hz = hz_at_cents(440.0, -6.0);
  entry.judged = {judged_of(Criterion::note, -6.0), judged_of(Criterion::reach_of_a4, -6.0)};
  entry.evenness_cents = 6.0;
  entry.result = VerdictResult::fail;
  KeeperOffsets offsets = two_days();
  offsets.at("2026-03-02").u95_cents = 0.2;
  const BenchEntry found = by_keeper(entry, offsets).value();
  ASSERT_EQ(found.judged.size(), 2U);
  for (const EntryJudged& each : found.judged) EXPECT_NEAR(*each.judged.value, -3.0, 1e-9);
  EXPECT_EQ(found.result, VerdictResult::pass);
  EXPECT_NEAR(cents_between(440.0, *found.end_a4_hz), -3.0, 1e-9);
  EXPECT_FALSE(found.evenness_cents);  // it was that of the notes as they sounded
}

TEST(ByKeeper, AnInstrumentOfAColdDayHasItsHeadFartherOut) {
  BenchEntry entry = made_up_entry("A", {0.0, 0.0}, "2026-03-02T10:00");
  entry.head_rests_mm = 1.8;
  entry.head_out_mm = 5.0;
  entry.slide_mm = -3.2;
  entry.judged.push_back({{.criterion = Criterion::head_place,
                           .result = VerdictResult::fail,
                           .value = 1.8,
                           .u95 = 0.1,
                           .lower = 2.0,
                           .upper = 6.0},
                          "its head's best place is 1.8 mm out"});
  entry.result = VerdictResult::fail;
  KeeperOffsets offsets = two_days();
  offsets.at("2026-03-02").u95_cents = 0.2;
  const BenchEntry found = by_keeper(entry, offsets).value();
  // 3 cents at 1200 / ln 2 / L cents a mm, L 290 and 270 mm.
  const double mm = 3.0 / (1200 / std::log(2.0) * (1 / 290.0 + 1 / 270.0) / 2);
  EXPECT_NEAR(*found.head_rests_mm, 1.8 + mm, 0.002);
  EXPECT_EQ(found.result, VerdictResult::pass);
  EXPECT_EQ(found.notes[0].moved->cents, 0.0);
  EXPECT_NEAR(*found.head_out_mm + *found.slide_mm, *found.head_rests_mm, 1e-9);
}

TEST(ByKeeper, WhereTheHeadCannotAnswerTheNotesDo) {
  BenchEntry entry = made_up_entry("A", {-6.0, -6.0}, "2026-03-02T10:00");
  entry.limit = SlideLimit::fully_in;
  entry.home_a4_hz = 438.0;
  const BenchEntry found = by_keeper(entry, two_days()).value();
  EXPECT_NEAR(found.notes[0].moved->cents, -3.0, 1e-9);
  EXPECT_GT(found.notes[0].moved->u95_cents, entry.notes[0].moved->u95_cents);
  EXPECT_NEAR(cents_between(438.0, *found.home_a4_hz), 3.0, 1e-9);
}

TEST(ByKeeper, AtAnEndOfItsWayTheHeadAnswersWhatItCan) {
  BenchEntry entry = made_up_entry("A", {-2.0, -2.0}, "2026-03-02T10:00");
  entry.limit = SlideLimit::fully_in;
  entry.head_rests_mm = 0;
  entry.end_a4_hz = hz_at_cents(440.0, -2.0);  // of 3 cents the notes need 2, and the head comes out by 1
  entry.judged = {judged_of(Criterion::reach_of_a4, -2.0)};
  const BenchEntry found = by_keeper(entry, two_days()).value();
  EXPECT_FALSE(found.limit);  // so nothing is left to be reached
  EXPECT_TRUE(found.judged.empty());
  EXPECT_NEAR(found.notes[0].moved->cents, 0.0, 1e-9);
  EXPECT_NEAR(*found.head_rests_mm, 1.0 / (1200 / std::log(2.0) * (1 / 290.0 + 1 / 270.0) / 2), 0.002);
  entry.limit.reset();
  entry.end_a4_hz.reset();
  entry.judged.clear();
  entry.subject.recorded_at = entry.recorded_at = "2026-03-03T10:00";  // read 3 cents sharp: fully in it is flat
  const BenchEntry flat = by_keeper(entry, two_days()).value();
  EXPECT_NEAR(flat.notes[0].moved->cents, -5.0, 1e-9);
  EXPECT_NEAR(*flat.head_rests_mm, 0.0, 1e-9);
}

TEST(ByKeeper, AFreeHeadThatCannotAnswerAllComesToRestAtAnEnd) {
  // Of an infinitesimal move; a whole millimetre makes 0.2 % less.
  const double cents_per_mm = 1200 / std::log(2.0) * (1 / 290.0 + 1 / 270.0) / 2;
  BenchEntry entry = with_tolerance(1.0, made_up_entry("A", {0.0, 0.0}, "2026-03-03T10:00"));  // read 3 cents sharp
  entry.head_rests_mm = 1.0 / cents_per_mm;
  entry.travel_mm = 20.0;
  const BenchEntry in = by_keeper(entry, two_days()).value();
  EXPECT_EQ(in.limit, SlideLimit::fully_in);
  EXPECT_NEAR(*in.head_rests_mm, 0.0, 1e-9);
  EXPECT_NEAR(in.notes[0].moved->cents, -2.0, 0.01);
  EXPECT_NEAR(cents_between(in.a4_hz, in.end_a4_hz.value()), -2.0, 0.01);
  ASSERT_EQ(in.judged.size(), 2U);
  EXPECT_EQ(in.judged[1].judged.criterion, Criterion::reach_of_a4);  // by the tolerance of the notes
  EXPECT_NEAR(*in.judged[1].judged.value, -2.0, 0.01);
  EXPECT_EQ(in.judged[1].judged.upper, 1.0);
  entry.subject.recorded_at = entry.recorded_at = "2026-03-02T10:00";  // read 3 cents flat
  entry.travel_mm = *entry.head_rests_mm + 2.0 / cents_per_mm;
  const BenchEntry out = by_keeper(entry, two_days()).value();
  EXPECT_EQ(out.limit, SlideLimit::travel);
  EXPECT_NEAR(*out.head_rests_mm, *entry.travel_mm, 1e-9);
  EXPECT_NEAR(out.notes[0].moved->cents, 1.0, 0.01);
  EXPECT_NEAR(cents_between(out.a4_hz, out.end_a4_hz.value()), 1.0, 0.01);
}

TEST(ByKeeper, AFreeHeadWithRoomStaysFree) {
  BenchEntry entry = with_tolerance(1.0, made_up_entry("A", {0.0, 0.0}, "2026-03-03T10:00"));
  entry.head_rests_mm = 4.7;
  entry.travel_mm = 20.0;
  const BenchEntry found = by_keeper(entry, two_days()).value();
  EXPECT_FALSE(found.limit);
  EXPECT_FALSE(found.end_a4_hz);
  EXPECT_EQ(found.judged.size(), 1U);
  EXPECT_EQ(found.notes[0].moved->cents, 0.0);
}

TEST(ByKeeper, OfADayWithoutKeeperNothingIsSaid) {
  EXPECT_FALSE(by_keeper(made_up_entry("A", {0.0}, "2026-03-04"), two_days()));
  EXPECT_FALSE(by_keeper(made_up_entry("A", {0.0}), two_days()));
}

}  // namespace
}  // namespace windway
