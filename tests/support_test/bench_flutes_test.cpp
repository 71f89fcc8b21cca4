// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/bench_flutes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "instrument/instrument_file.hpp"
#include "support/bench_takes.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

double worst_cents(const BenchFlute& flute) {
  double worst = 0.0;
  for (const double cents : flute.moved_moderate_cents) worst = std::max(worst, std::abs(cents));
  return worst;
}

double rest_mm(const BenchFlute& flute) { return flute.head_out_mm + flute.best.slide_mm; }

TEST(BenchFlutes, GoodOnesAreWithinWhatTheInstrumentFileAsksAndFaultyOnesAreAsMany) {
  const auto bench = draw_bench({});
  ASSERT_EQ(bench.size(), 200U);
  std::map<std::string, int> count;
  for (const BenchFlute& flute : bench) {
    ++count[flute.fault];
    if (!flute.fault.empty()) continue;
    EXPECT_LE(worst_cents(flute), 20.0) << flute.serial;
    EXPECT_GE(rest_mm(flute), 2.5);
    EXPECT_LE(rest_mm(flute), 7.5);
    for (const TrueNote& note : flute.notes) EXPECT_LE(*note.spread_cents, 50.0);
  }
  EXPECT_EQ(count[""], 190);
  for (const std::string& fault : bench_faults()) EXPECT_GE(count[fault], 1) << fault;
}

TEST(BenchFlutes, FaultsAreBeyondWhatTheInstrumentFileAsks) {
  for (const BenchFlute& flute : draw_bench({.instruments = 24, .faults = 24})) {
    SCOPED_TRACE(flute.serial + " " + flute.fault);
    const BenchLimits limits;
    if (flute.fault == "one note off") {
      EXPECT_GE(worst_cents(flute), 30.0);
    }
    if (flute.fault == "body too long") {
      EXPECT_EQ(rest_mm(flute), 0.0);
    }
    if (flute.fault == "wrong key") {
      EXPECT_EQ(flute.as_recorded.notes.front().midi, 72);
    }
    if (flute.fault == "octave wide") {
      EXPECT_GE(flute.moved_moderate_cents[7] - flute.moved_moderate_cents[0], 20.0);
    }
    if (flute.fault == "spread too large") {
      const auto spread = [](const TrueNote& note) { return *note.spread_cents; };
      EXPECT_GT(std::ranges::max(flute.notes, {}, spread).spread_cents, limits.max_spread_cents);
    }
  }
}

TEST(BenchFlutes, TheHoleErrorLowersItsNotesInBothRegistersOnAverage) {
  BenchPlan plan{.instruments = 400, .note_sd_cents = 3.0, .faults = 0};
  const auto with = draw_bench(plan);
  plan.hole_error_mm = 0.0;
  const auto without = draw_bench(plan);
  const auto mean = [](const std::vector<BenchFlute>& bench, std::size_t note) {
    double sum = 0.0;
    for (const BenchFlute& flute : bench) sum += flute.notes[note].moderate_cents;
    return sum / static_cast<double>(bench.size());
  };
  // A5 and A6: L = 346267.7 mm/s / (2 * 880 Hz) = 196.74 mm, 1200 log2(1 + 0.8 / 196.74) = 7.03 cents [calc]
  EXPECT_NEAR(mean(with, 4) - mean(without, 4), -7.03, 0.5);
  EXPECT_NEAR(mean(with, 11) - mean(without, 11), -7.03, 0.5);
  EXPECT_NEAR(mean(with, 5) - mean(without, 5), 0.0, 0.5);
}

TEST(BenchFlutes, ALargerBenchBeginsWithTheSmallerOne) {
  const auto few = draw_bench({.instruments = 3, .faults = 0});
  const auto many = draw_bench({.instruments = 5, .faults = 0});
  for (std::size_t i = 0; i < few.size(); ++i) {
    EXPECT_EQ(few[i].serial, many[i].serial);
    EXPECT_EQ(few[i].notes[3].moderate_cents, many[i].notes[3].moderate_cents);
  }
}

TEST(BenchTakes, AreNamedOnceEachAndInTheOrderOfProduction) {
  const BenchPlan plan{.instruments = 45, .faults = 0};
  const auto bench = draw_bench(plan);
  auto takes = production_takes(bench, plan);
  EXPECT_EQ(takes.front().name(), "HW-1001_final_1");
  EXPECT_TRUE(std::ranges::is_sorted(takes, std::less<>{}, &BenchTake::recorded_at));
  EXPECT_EQ(takes.back().recorded_at.substr(0, 10), "2026-03-04");
  for (const BenchTake& take : keeper_takes(draw_keeper(plan), 3, plan)) takes.push_back(take);
  for (const BenchTake& take : gauge_takes(bench, 10, 2, 3, plan)) takes.push_back(take);
  EXPECT_EQ(takes.size(), 45U + 3U + 60U);
  std::map<std::string, int> named;
  for (const BenchTake& take : takes) ++named[take.name()];
  EXPECT_EQ(named.size(), takes.size());
  const std::string manifest = bench_manifest(takes);
  EXPECT_EQ(static_cast<std::size_t>(std::ranges::count(manifest, '\n')), takes.size() + 1);
}

TEST(BenchTakes, ADriftOfTheMeasuringIsHeardAndASilentTakeIsNot) {
  const BenchPlan plan{.instruments = 6, .faults = 6, .drift_cents_per_day = 2.0};
  const auto keeper = keeper_takes(draw_keeper(plan), 3, plan);
  const auto first_cents = [](const BenchTake& take) { return *mean_cents(play(take).holds[1]); };  // D5, moderate
  EXPECT_NEAR(first_cents(keeper[2]) - first_cents(keeper[0]), 4.0, 1.5);
  const auto takes = production_takes(draw_bench(plan), plan);
  const SyntheticTake silent = play(takes[3]);
  ASSERT_EQ(takes[3].flute.fault, "silent take");
  EXPECT_TRUE(silent.holds.empty());
  const auto loudest = std::ranges::max(silent.samples, {}, [](float x) { return std::abs(x); });
  EXPECT_LT(std::abs(loudest), 0.001F);
}

TEST(BenchTakes, TheInstrumentFileIsSoundAndSaysTheLimits) {
  const Instrument instrument = instrument_from_toml(bench_whistle_toml(), "bench.toml");
  const BenchLimits limits;
  EXPECT_EQ(instrument.tolerance_cents, limits.tolerance_cents);
  EXPECT_EQ(instrument.max_spread_cents, limits.max_spread_cents);
  EXPECT_EQ(instrument.head_out_range_mm->min_mm, limits.least_out_mm);
  EXPECT_EQ(instrument.head_out_range_mm->max_mm, limits.most_out_mm);
  EXPECT_EQ(instrument.travel_mm, limits.travel_mm);
  ASSERT_EQ(instrument.scale.size(), 15U);
  EXPECT_EQ(instrument.scale.back().id.midi, 98);
}

}  // namespace
}  // namespace windway::synthesis
