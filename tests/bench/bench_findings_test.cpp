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
    EXPECT_NEAR(note.share_25_cents.value(), 7.0 - 0.674 * 2, 0.2);
    EXPECT_NEAR(note.share_75_cents.value(), 7.0 + 0.674 * 2, 0.2);
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

/// `count` instruments dealt to so many lots, all alike; without a lowest note, so that no advice is worked out.
std::vector<BenchEntry> alike_lots(int count, int lots, std::uint64_t seed) {
  auto entries = instruments(count, 0.0, seed);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    entries[i].subject.lot = "lot " + std::to_string(i % static_cast<std::size_t>(lots));
    entries[i].lowest_midi.reset();
  }
  return entries;
}

const TallyRules by_lot{.group_by = GroupBy::lot, .keeper = std::nullopt, .stage = std::nullopt};

TEST(BenchFindings, AreSureOfADifferenceByChanceInFewerThanOneBenchOfTwenty) {
  constexpr int benches = 400;
  int plain = 0, sure = 0;
  for (int bench = 0; bench < benches; ++bench) {
    const BenchFindings found = findings(alike_lots(60, 6, 1000 + static_cast<std::uint64_t>(bench)), by_lot);
    EXPECT_EQ(found.comparisons, 24U);
    bool has_plain = false, has_sure = false;
    for (const GroupFinding& group : found.groups)
      for (const GroupNote& note : group.notes) {
        has_plain = has_plain || std::abs(note.above_rest.cents) > note.above_rest.u95_cents;
        has_sure = has_sure || note.is_sure;
      }
    plain += has_plain, sure += has_sure;
  }
  EXPECT_GT(plain, benches / 2);       // 1 - 0.95^24 = 71 %
  EXPECT_LE(sure, benches * 7 / 100);  // 5 %, and twice the SD of so many benches
  EXPECT_GT(sure, 0);
}

TEST(BenchFindings, AreSureOfEveryNoteThatALotHasOtherwise) {
  auto entries = alike_lots(120, 3, 20);
  for (BenchEntry& entry : entries)
    if (entry.subject.lot == "lot 1")
      for (const std::size_t note : {1U, 3U}) entry.notes[note].moved->cents -= 4.0;
  const BenchFindings found = findings(entries, by_lot);
  const auto is_sure = [&](std::size_t note) { return found.groups.at(1).notes.at(note).is_sure; };
  EXPECT_TRUE(is_sure(1) && is_sure(3));
  EXPECT_FALSE(is_sure(0) || is_sure(2));
}

TEST(BenchFindings, OfResultsThatWereGroupedTakeTheirGroups) {
  auto entries = alike_lots(40, 2, 21);
  EXPECT_TRUE(findings(entries).groups.empty());
  for (BenchEntry& entry : entries) entry.counting.group_by = GroupBy::lot;
  EXPECT_EQ(findings(entries).groups.size(), 2U);
  for (BenchEntry& entry : entries) entry.subject.head = "H1";
  const BenchFindings asked =
      findings(entries, {.group_by = GroupBy::head, .keeper = std::nullopt, .stage = std::nullopt});
  ASSERT_EQ(asked.groups.size(), 1U);  // the call outranks what the results remember
  EXPECT_EQ(asked.groups[0].name, "H1");
  entries[3].counting.group_by = GroupBy::head;
  EXPECT_TRUE(findings(entries).groups.empty());  // by lots or by heads?
}

TEST(BenchFindings, HaveNoChartOfFewerThanEightInstruments) {
  EXPECT_FALSE(findings(instruments(7, 0.0, 22)).notes.at(0).chart);
  EXPECT_TRUE(findings(instruments(8, 0.0, 22)).notes.at(0).chart);
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
  ASSERT_EQ(found.keepers.size(), 1U);
  EXPECT_EQ(found.keepers[0].serial, "KEEP");
  const SeriesFinding& keeper = found.keepers[0].series;
  EXPECT_EQ(keeper.takes, 30U);
  EXPECT_NEAR(keeper.rise.value().cents, 6.0, 0.7);
  EXPECT_LT(keeper.rise.value().u95_cents, 1.0);
  EXPECT_NEAR(keeper.mean_home_a4_hz, hz_at_cents(home_hz, 3.0), 0.1);
  EXPECT_FALSE(keeper.beyond_chart.listed.empty());
  EXPECT_EQ(found.instruments.value().takes, 30U);
  const CentsEstimate others = found.instruments.value().rise.value();
  EXPECT_LT(std::abs(others.cents), others.u95_cents);
}

TEST(BenchFindings, KnowTheKeepersThatResultsRemember) {
  auto entries = instruments(10, 0.0, 10);
  for (const char* serial : {"KEEP-A", "KEEP-B"})
    for (BenchEntry entry : keeper_mornings(9, 0.0)) {
      entry.subject.serial = serial;
      entry.counting.keeper = true;
      entries.push_back(entry);
    }
  const BenchFindings found = findings(entries);
  ASSERT_EQ(found.keepers.size(), 2U);
  EXPECT_EQ(found.keepers[0].serial, "KEEP-A");
  EXPECT_EQ(found.keepers[1].series.takes, 9U);
  EXPECT_EQ(found.instruments.value().takes, 10U);
  const BenchFindings asked = findings(entries, {.group_by = std::nullopt, .keeper = "KEEP-B", .stage = std::nullopt});
  ASSERT_EQ(asked.keepers.size(), 1U);  // the call outranks what the results remember
  EXPECT_EQ(asked.instruments.value().takes, 19U);
}

TEST(BenchFindings, HaveNoKeeperWhereNoneIsNamedOrNoneCame) {
  EXPECT_TRUE(findings(instruments(10, 0.0, 10)).keepers.empty());
  const TallyRules rules{.group_by = std::nullopt, .keeper = "KEEP", .stage = std::nullopt};
  EXPECT_TRUE(findings(instruments(10, 0.0, 10), rules).keepers.empty());
}

TEST(BenchFindings, AreEmptyOfNoInstrument) {
  const BenchFindings found = findings({});
  EXPECT_TRUE(found.notes.empty());
  EXPECT_FALSE(found.instruments || found.advice);
  EXPECT_TRUE(found.keepers.empty());
}

TEST(BenchFindings, GiveNoAdviceWhereModelsAreMixed) {
  auto entries = instruments(30, 0.0, 11);
  EXPECT_TRUE(findings(entries).advice);
  entries[3].lowest_midi = 72;
  EXPECT_FALSE(findings(entries).advice);
}

}  // namespace
}  // namespace windway
