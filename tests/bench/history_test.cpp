// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/history.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

/// A take of one note as recorded `cents` sharp, the air column 300 mm long.
BenchEntry take(const std::string& recorded_at, double cents, std::optional<double> head_out_mm = std::nullopt) {
  auto entry = batch_tests::made_up_entry("A", {0.0}, recorded_at);
  entry.notes[0].moderate = {cents, 0.3};
  entry.notes[0].effective_length_mm = 300;
  entry.head_out_mm = head_out_mm;
  return entry;
}

/// A bench that repeats a note as surely as it measures one.
const BenchRepeat exact{};

NoteStep only_step(const std::vector<BenchEntry>& takes) {
  const History history = history_of(takes, exact);
  EXPECT_EQ(history.steps.size(), 1U);
  EXPECT_EQ(history.steps.at(0).notes.size(), 1U);
  return history.steps.at(0).notes.at(0);
}

TEST(HistoryOf, PutsTakesInOrderOfTimeAndTheRestAsTheyCame) {
  auto one = take("", 1);
  auto two = take("", 2);
  const History history = history_of({take("2026-02-01", 4), one, take("2026-01-01", 3), two}, exact);
  std::vector<double> cents;
  for (const BenchEntry& each : history.takes) cents.push_back(each.notes[0].moderate.cents);
  EXPECT_EQ(cents, (std::vector<double>{1, 2, 3, 4}));
  ASSERT_EQ(history.steps.size(), 3U);
  EXPECT_EQ(history.steps[2].before, 2U);
  EXPECT_EQ(history.steps[2].after, 3U);
}

TEST(HistoryOf, TellsAChangeFromWhatTwoUncertaintiesAllow) {
  const NoteStep step = only_step({take("1", 5.0), take("2", 9.0)});
  EXPECT_EQ(step.note.midi, 74);
  EXPECT_NEAR(step.change.cents, 4.0, 1e-12);
  EXPECT_NEAR(step.change.u95_cents, std::hypot(0.3, 0.3), 1e-12);
  EXPECT_TRUE(step.is_real);
  EXPECT_FALSE(only_step({take("1", 5.0), take("2", 5.4)}).is_real);
}

TEST(HistoryOf, AllowsForWhereTheHeadStood) {
  // Drawn out 3 mm on 300 mm the note falls by 1200 log2(303 / 300) cents: so it did, and no work shows.
  const double fall_cents = 1200 * std::log2(303.0 / 300.0);
  const NoteStep step = only_step({take("1", 5.0, 2.0), take("2", 5.0 - fall_cents, 5.0)});
  EXPECT_NEAR(step.change.cents, 0.0, 1e-9);
  EXPECT_NEAR(step.change.u95_cents, std::hypot(0.3, 0.3, 0.05 * fall_cents), 1e-9);
  EXPECT_FALSE(step.is_real);
  const double rise_cents = 1200 * std::log2(300.0 / 297.0);
  EXPECT_NEAR(only_step({take("1", 5.0, 5.0), take("2", 6.0 + rise_cents, 2.0)}).change.cents, 1.0, 1e-9);
}

TEST(HistoryOf, SaysWhereTheHeadsPlaceIsNotKnownOfBoth) {
  EXPECT_TRUE(history_of({take("1", 0, 2.0), take("2", 0, 2.0)}, exact).steps[0].head_allowed_for);
  EXPECT_FALSE(history_of({take("1", 0, 2.0), take("2", 0)}, exact).steps[0].head_allowed_for);
  EXPECT_NEAR(only_step({take("1", 5.0, 2.0), take("2", 1.0)}).change.cents, -4.0, 1e-12);
}

TEST(HistoryOf, ComparesMeasuredTakesThatCountOnly) {
  auto overtaken = take("2", 50);
  overtaken.counting.counts = false;
  auto unread = take("3", 60);
  unread.error = "cut short";
  auto silent = take("4", 70);
  silent.notes.clear();
  const History history = history_of({take("1", 1), overtaken, unread, silent, take("5", 3)}, exact);
  EXPECT_EQ(history.takes.size(), 5U);
  ASSERT_EQ(history.steps.size(), 1U);
  EXPECT_EQ(history.steps[0].before, 0U);
  EXPECT_EQ(history.steps[0].after, 4U);
}

TEST(HistoryOf, ComparesNotesOfOneFingeringThatBothTakesHave) {
  auto before = take("1", 1);
  auto after = take("2", 2);
  before.notes.push_back({.id = {76, "vented"},
                          .moderate = {1, 0.1},
                          .moved = {},
                          .spread = CentsEstimate{20, 3},
                          .effective_length_mm = {}});
  after.notes.push_back(before.notes[1]);
  after.notes[1].spread = CentsEstimate{12, 4};
  after.notes.push_back(before.notes[1]);
  after.notes[2].id.fingering = "";
  const auto notes = history_of({before, after}, exact).steps.at(0).notes;
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_EQ(notes[1].note.fingering, "vented");
  EXPECT_NEAR(notes[1].spread_change.value().cents, -8, 1e-12);
  EXPECT_NEAR(notes[1].spread_change.value().u95_cents, 5, 1e-12);
  EXPECT_FALSE(notes[0].spread_change);
}

TEST(HistoryOf, OfNoTakeHasNoStep) { EXPECT_TRUE(history_of({}, exact).steps.empty()); }

/// Takes of two notes of a flute, both so many cents sharp, the second `more_cents` more.
BenchEntry two_notes(const std::string& recorded_at, double cents, double more_cents) {
  auto entry = batch_tests::made_up_entry("A", {0.0, 0.0, 0.0}, recorded_at);
  for (EntryNote& note : entry.notes) note.moderate = {cents, 0.3};
  entry.notes.back().moderate.cents += more_cents;
  return entry;
}

TEST(HistoryOf, CallsNoChangeWhatTheBenchDoesNotRepeatAnyBetter) {
  const std::vector<BenchEntry> takes{two_notes("1", 0, 0), two_notes("2", 2.0, 1.0)};
  const HistoryStep unsure = history_of(takes, BenchRepeat{1.5, 3.0}).steps.at(0);
  for (const NoteStep& note : unsure.notes) {
    EXPECT_FALSE(note.is_real);
    EXPECT_NEAR(note.change.u95_cents, std::hypot(1.5, 3.0), 1e-12);
  }
  EXPECT_TRUE(history_of(takes, BenchRepeat{0.2, 0.5}).steps.at(0).notes[2].is_real);
}

TEST(HistoryOf, WhereRepeatabilityIsNotKnownCountsWhatAllHaveInCommonAsNoWork) {
  const HistoryStep warmer = history_of({two_notes("1", 0, 0), two_notes("2", 6.0, 0)}, std::nullopt).steps.at(0);
  EXPECT_NEAR(warmer.common_cents, 6.0, 1e-12);
  for (const NoteStep& note : warmer.notes) EXPECT_FALSE(note.is_real);
  const HistoryStep worked = history_of({two_notes("1", 0, 0), two_notes("2", 0.2, 9.0)}, std::nullopt).steps.at(0);
  EXPECT_FALSE(worked.notes[0].is_real);
  EXPECT_TRUE(worked.notes[2].is_real);
}

TEST(BenchRepeatOf, IsTheScatterOfFlutesRecordedAgain) {
  Repeatability repeats;
  for (const double cents : {-1.0, 1.0}) {
    auto entry = batch_tests::one_of(2, batch_tests::made_up_entry("A", {cents, -cents}));
    entry.home_a4_hz = 440.0 * std::exp2(2 * cents / 1200);
    entry.sha256 = std::to_string(cents);
    repeats.add(entry);
  }
  const BenchRepeat repeat = bench_repeat(repeats).value();
  // Student's t at 95 % of 2 degrees and of 1: 4.303 and 12.706 (any table of it).
  EXPECT_NEAR(repeat.note_u95_cents, 4.303 * std::sqrt(2.0) * std::sqrt(2.0), 0.002);
  EXPECT_NEAR(repeat.whole_u95_cents, 12.706 * std::sqrt(2.0) * 2 * std::sqrt(2.0), 0.01);
  EXPECT_FALSE(bench_repeat(Repeatability{}));
}

}  // namespace
}  // namespace windway
