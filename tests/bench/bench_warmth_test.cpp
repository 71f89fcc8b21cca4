// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_warmth.hpp"

#include <gtest/gtest.h>

#include "bench/bench_findings.hpp"
#include "bench/made_up_entry.hpp"
#include "support/random.hpp"

namespace windway {
namespace {

/// Ten instruments a day for three days, each day so many Hz above the one before.
std::vector<BenchEntry> three_days(double hz_a_day, std::uint64_t seed) {
  synthesis::Random random(seed);
  std::vector<BenchEntry> entries;
  for (int i = 0; i < 30; ++i) {
    const std::string day = "2026-03-0" + std::to_string(1 + i / 10);
    entries.push_back(batch_tests::made_up_entry("HW-" + std::to_string(i), {0.0}, day));
    entries.back().home_a4_hz = 440.0 + hz_a_day * (i / 10) + random.normal();
  }
  return entries;
}

std::optional<DaysApart> days_of(const std::vector<BenchEntry>& entries) {
  BenchTally tally;
  for (const BenchEntry& entry : entries) add(tally, entry);
  return findings_of(tally).days_apart;
}

TEST(DaysApart, AreTheColdestAndTheWarmest) {
  const auto days = days_of(three_days(2.0, 1));
  ASSERT_TRUE(days);
  EXPECT_EQ(days->lowest_day, "2026-03-01");
  EXPECT_EQ(days->highest_day, "2026-03-03");
  EXPECT_NEAR(days->highest_hz - days->lowest_hz, 4.0, 1.5);
}

TEST(DaysApart, AreSeldomSeenWhereAllDaysAreAlike) {
  int seen = 0;
  for (std::uint64_t seed = 0; seed < 1000; ++seed) seen += days_of(three_days(0.0, seed)) ? 1 : 0;
  EXPECT_LE(seen, 5);
}

TEST(DaysApart, AreNotAskedWhereTheManifestSaysTheTemperatures) {
  std::vector<BenchEntry> entries = three_days(2.0, 1);
  for (BenchEntry& entry : entries) entry.bore_temp_c = 21;
  EXPECT_FALSE(days_of(entries));
}

TEST(BenchWarmth, CountsTheTakesOfWhichNoTemperatureIsSaid) {
  BenchWarmth warmth;
  for (int i = 0; i < 9; ++i) {
    BenchEntry entry = batch_tests::made_up_entry("HW-" + std::to_string(i), {0.0});
    if (i < 2) entry.bore_temp_c = 18.0 + i;
    entry.air_c = 25;
    entry.is_quoted = true;
    add(warmth, entry);
  }
  EXPECT_EQ(warmth.said_c.n, 2U);
  EXPECT_EQ(warmth.said_c.max, 19.0);
  EXPECT_EQ(warmth.not_said, 7U);
  EXPECT_EQ(warmth.not_said_of.size(), BenchWarmth::most_listed);
  EXPECT_EQ(warmth.quoted_c, 25.0);
}

}  // namespace
}  // namespace windway
