// SPDX-License-Identifier: GPL-3.0-or-later
// What is planted in made-up instruments must come out of the bench's statistics.
#include "bench/bench_findings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;

constexpr double home_hz = 440.0;

/// `count` instruments of four notes whose errors have SD 2 about `mean_cents`, in order of time from `first_day` on.
std::vector<BenchEntry> instruments(int count, double mean_cents, std::uint64_t seed, int first_day = 0) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> error(mean_cents, 2.0);
  std::vector<BenchEntry> entries;
  for (int i = 0; i < count; ++i) {
    const std::string day = std::to_string(10000 + first_day + i);
    entries.push_back(made_up_entry("HW-" + day, {error(random), error(random), error(random), error(random)}, day));
    entries.back().home_a4_hz = hz_at_cents(home_hz, error(random) - mean_cents);
  }
  return entries;
}

BenchFindings findings(const std::vector<BenchEntry>& entries, const TallyRules& rules = {}) {
  BenchTally tally;
  tally.rules = rules;
  for (const BenchEntry& entry : entries) add(tally, entry);
  return findings_of(tally);
}

std::vector<std::string> names_of(const std::vector<NamedDeviation>& deviations) {
  std::vector<std::string> names;
  for (const NamedDeviation& each : deviations) names.push_back(each.name);
  return names;
}

TEST(BenchFindings, HaveThePlantedMeanSdAndQuantilesOfEachNote) {
  const BenchFindings found = findings(instruments(4000, 7.0, 1));
  ASSERT_EQ(found.notes.size(), 4U);
  for (const NoteFinding& note : found.notes) {
    EXPECT_EQ(note.left.n, 4000U);
    EXPECT_NEAR(note.left.mean, 7.0, 0.15);
    EXPECT_NEAR(note.sd_cents.value(), 2.0, 0.1);
    EXPECT_NEAR(note.median_cents.value(), 7.0, 0.25);
    EXPECT_NEAR(note.share_5_cents.value(), 7.0 - 1.645 * 2, 0.3);
    EXPECT_NEAR(note.share_95_cents.value(), 7.0 + 1.645 * 2, 0.3);
    EXPECT_NEAR(note.chart.value().upper, 7.0 + 6.0, 0.4);
    EXPECT_FALSE(note.capability);  // nothing was asked
  }
  EXPECT_EQ(found.notes[0].note, (NoteId{74, ""}));
  EXPECT_EQ(found.notes[3].note, (NoteId{80, ""}));
}

TEST(BenchFindings, HaveTheCapabilityWhereAToleranceWasAsked) {
  auto entries = instruments(50, 3.0, 2);
  for (BenchEntry& entry : entries) entry = batch_tests::with_tolerance(12.0, entry);
  const NoteFinding note = findings(entries).notes.at(0);
  const double sd = note.sd_cents.value();
  EXPECT_NEAR(note.capability.value().cp, 24 / (6 * sd), 1e-12);
  EXPECT_NEAR(note.capability.value().cpk, (12 - note.left.mean) / (3 * sd), 1e-12);
}

TEST(BenchFindings, NameTheInstrumentThatStandsApartAndOnWhichNote) {
  auto entries = instruments(40, 0.0, 3);
  entries[17].notes[2].moved = CentsEstimate{25.0, 0.5};
  const BenchFindings found = findings(entries);
  ASSERT_EQ(found.notes[2].outliers.count, 1U);
  EXPECT_EQ(found.notes[2].outliers.listed[0].name, "HW-10017");
  EXPECT_EQ(found.notes[2].outliers.listed[0].cents, 25.0);
  EXPECT_EQ(names_of(found.notes[2].beyond_chart.listed), (std::vector<std::string>{"HW-10017"}));
  EXPECT_TRUE(found.notes[0].outliers.listed.empty());
}

TEST(BenchFindings, PutTheChartInOrderOfTimeHoweverTheTakesCame) {
  auto entries = instruments(30, 0.0, 4);
  const double in_order = findings(entries).notes[1].chart.value().mean_moving_range;
  std::ranges::shuffle(entries, std::mt19937_64(5));
  EXPECT_DOUBLE_EQ(findings(entries).notes[1].chart.value().mean_moving_range, in_order);
}

TEST(BenchFindings, TellAGroupThatStandsApartFromOnesThatDoNot) {
  std::vector<BenchEntry> entries;
  int day = 0;
  for (const auto& [lot, mean_cents] :
       std::vector<std::pair<const char*, double>>{{"ash", 0}, {"box", 4}, {"elm", 0}}) {
    for (BenchEntry& entry : instruments(60, mean_cents, 6 + static_cast<std::uint64_t>(day), day)) {
      entry.subject.lot = lot;
      entries.push_back(std::move(entry));
    }
    day += 60;
  }
  const auto groups =
      findings(entries, {.group_by = GroupBy::lot, .keeper = std::nullopt, .stage = std::nullopt}).groups;
  ASSERT_EQ(groups.size(), 3U);
  EXPECT_EQ(groups[1].name, "box");
  EXPECT_EQ(groups[1].verdicts.of(VerdictResult::pass), 60U);
  ASSERT_EQ(groups[1].notes.size(), 4U);
  for (const GroupNote& note : groups[1].notes) {
    EXPECT_NEAR(note.above_rest.cents, 4.0, 1.0);
    EXPECT_LT(note.above_rest.u95_cents, 1.0);  // 1.96 sqrt(4 / 60 + 4 / 120) = 0.62
    EXPECT_GT(note.above_rest.u95_cents, 0.4);
  }
  for (const GroupNote& note : groups[0].notes) EXPECT_LT(note.above_rest.cents, 0.0);  // box is of its rest
}

/// The keeper, recorded each morning, rising by `rise_cents` in all beside scatter of 0.5 cents.
std::vector<BenchEntry> keeper_mornings(int count, double rise_cents) {
  std::mt19937_64 random(8);
  std::normal_distribution<double> scatter(0.0, 0.5);
  std::vector<BenchEntry> entries;
  for (int i = 0; i < count; ++i) {
    entries.push_back(made_up_entry("KEEP", {0.0}, std::to_string(10000 + i)));
    entries.back().home_a4_hz = hz_at_cents(home_hz, rise_cents * i / (count - 1) + scatter(random));
  }
  return entries;
}

TEST(BenchFindings, SeeTheKeeperDriftThoughTheInstrumentsDoNot) {
  auto entries = instruments(30, 0.0, 9);
  for (const BenchEntry& entry : keeper_mornings(30, 6.0)) entries.push_back(entry);
  const BenchFindings found = findings(entries, {.group_by = std::nullopt, .keeper = "KEEP", .stage = std::nullopt});
  const SeriesFinding& keeper = found.keeper.value();
  EXPECT_EQ(keeper.takes, 30U);
  EXPECT_NEAR(keeper.rise.value().cents, 6.0, 0.7);
  EXPECT_LT(keeper.rise.value().u95_cents, 1.0);
  EXPECT_NEAR(keeper.mean_home_a4_hz, hz_at_cents(home_hz, 3.0), 0.1);
  EXPECT_FALSE(keeper.beyond_chart.listed.empty());
  EXPECT_EQ(found.instruments.value().takes, 30U);
  const CentsEstimate others = found.instruments.value().rise.value();
  EXPECT_LT(std::abs(others.cents), others.u95_cents);
}

TEST(BenchFindings, HaveNoKeeperWhereNoneIsNamedOrNoneCame) {
  EXPECT_FALSE(findings(instruments(10, 0.0, 10)).keeper);
  EXPECT_FALSE(
      findings(instruments(10, 0.0, 10), {.group_by = std::nullopt, .keeper = "KEEP", .stage = std::nullopt}).keeper);
}

TEST(BenchFindings, AreEmptyOfNoInstrument) {
  const BenchFindings found = findings({});
  EXPECT_TRUE(found.notes.empty());
  EXPECT_FALSE(found.instruments || found.keeper || found.advice);
}

TEST(BenchFindings, GiveNoAdviceWhereModelsAreMixed) {
  auto entries = instruments(30, 0.0, 11);
  EXPECT_TRUE(findings(entries).advice);
  entries[3].lowest_midi = 72;
  EXPECT_FALSE(findings(entries).advice);
}

}  // namespace
}  // namespace windway
