// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/hole_advice.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "bench/drawn_bench.hpp"
#include "support/bench_flutes.hpp"

namespace windway {
namespace {

BenchAdvice advice_of(const BenchDraw& draw, std::uint64_t seed) {
  const auto advice = bench_advice(whistle_places(), draw_bench_cents(draw, seed).instruments, Kind::whistle);
  EXPECT_TRUE(advice);
  return advice.value_or(BenchAdvice{});
}

const HoleAdvice& of_degree(const BenchAdvice& advice, int degree) {
  return *std::ranges::find(advice.degrees, degree, &HoleAdvice::degree_semitones);
}

/// How far from the truth 95 in 100 benches are told to move the hole, mm; one that is not told counts as infinite.
double error95_mm(const BenchDraw& draw, int degree, int seeds = 60) {
  std::vector<double> errors;
  for (int seed = 0; seed < seeds; ++seed) {
    const BenchAdvice advice = advice_of(draw, 100 + static_cast<std::uint64_t>(seed));
    const auto move_mm = of_degree(advice, degree).move_mm;
    errors.push_back(move_mm ? std::abs(*move_mm - draw.too_far_mm.at(degree)) : HUGE_VAL);
  }
  std::ranges::sort(errors);
  return errors[errors.size() * 95 / 100];
}

/// Share of the stated intervals that hold the truth, all degrees of so many benches.
double coverage(const BenchDraw& draw, int seeds = 150) {
  int within = 0, all = 0;
  for (int seed = 0; seed < seeds; ++seed) {
    const DrawnBench bench = draw_bench_cents(draw, 5000 + static_cast<std::uint64_t>(seed));
    const auto advice = bench_advice(whistle_places(), bench.instruments, Kind::whistle);
    for (const HoleAdvice& degree : advice.value().degrees) {
      const double error = degree.common.cents - bench.common_cents.at(degree.degree_semitones);
      within += std::abs(error) <= degree.common.u95_cents ? 1 : 0;
      ++all;
    }
  }
  return static_cast<double>(within) / all;
}

TEST(HoleAdvice, FindsAHoleTooFarOutBesideErrorsOfSixCents) {
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 0.8}}}, 7), 0.15);
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 0.4}}}, 7), 0.15);
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 1.5}}}, 7), 0.15);
}

TEST(HoleAdvice, FindsItOnOtherDegreesAndInTheOtherDirection) {
  EXPECT_LT(error95_mm({.too_far_mm = {{2, 0.8}}}, 2), 0.15);  // the longest column: fewest cents a mm
  EXPECT_LT(error95_mm({.too_far_mm = {{9, 0.8}}}, 9), 0.15);
  EXPECT_LT(error95_mm({.too_far_mm = {{11, -0.8}}}, 11), 0.15);
}

TEST(HoleAdvice, FindsTwoAtOnce) {
  const BenchDraw opposite{.too_far_mm = {{4, -0.8}, {7, 0.8}}};
  EXPECT_LT(error95_mm(opposite, 4), 0.15);
  EXPECT_LT(error95_mm(opposite, 7), 0.15);
  const BenchDraw alike{.too_far_mm = {{7, 0.8}, {9, 0.8}}};
  EXPECT_LT(error95_mm(alike, 7), 0.15);
  EXPECT_LT(error95_mm(alike, 9), 0.15);
}

TEST(HoleAdvice, IsNotLedAstrayByWildInstrumentsMissingNotesOrHeadsTooFarOut) {
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 0.8}}, .wild_share = 0.05}, 7), 0.15);
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 0.8}}, .missing_share = 0.2}, 7), 0.15);
  EXPECT_LT(error95_mm({.too_far_mm = {{7, 0.8}}, .heads_out_mm = 2.0}, 7), 0.15);
}

TEST(HoleAdvice, ItsU95HoldsTheTruthAsOftenAsItSays) {
  const std::vector<BenchDraw> draws = {{.too_far_mm = {{7, 0.8}}},
                                        {.instruments = 10},
                                        {.instruments = 30, .too_far_mm = {{4, 0.8}}},
                                        {.too_far_mm = {{7, 0.8}}, .wild_share = 0.05},
                                        {.missing_share = 0.2},
                                        {.instruments = 60, .model_sd_cents = 2.0}};
  for (std::size_t i = 0; i < draws.size(); ++i) {
    const double share = coverage(draws[i]);
    EXPECT_GE(share, 0.93) << "draw " << i;
    EXPECT_LE(share, 0.99) << "draw " << i;
  }
}

TEST(HoleAdvice, ABenchWithoutACommonErrorIsSeldomToldToMoveAnything) {
  int told = 0;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const BenchAdvice advice = advice_of({}, seed);
    told += std::ranges::any_of(advice.degrees, &HoleAdvice::is_sure) ? 1 : 0;
    for (const HoleAdvice& degree : advice.degrees) EXPECT_EQ(degree.move_mm.has_value(), degree.is_sure);
  }
  EXPECT_LE(told, 10);  // 5 of 100 by its own claim; more than 10 happens once in 90 times
}

TEST(HoleAdvice, SaysWhichWayEnlargingWorks) {
  const BenchAdvice advice = advice_of({.note_sd_cents = 2.0, .too_far_mm = {{0, -1.0}, {4, -1.0}, {7, 1.0}}}, 1);
  EXPECT_EQ(of_degree(advice, 7).work, HoleWork::enlarge);  // too far from the window: flat
  EXPECT_LT(of_degree(advice, 7).common.cents, 0.0);
  EXPECT_GT(*of_degree(advice, 7).move_mm, 0.0);
  EXPECT_EQ(of_degree(advice, 4).work, HoleWork::fill);
  EXPECT_LT(*of_degree(advice, 4).move_mm, 0.0);
  EXPECT_EQ(of_degree(advice, 0).work, HoleWork::lengthen);  // the lowest note has no hole
  EXPECT_EQ(of_degree(advice, 9).work, HoleWork::none);
  EXPECT_FALSE(of_degree(advice, 9).move_mm);
}

TEST(HoleAdvice, AMillimetreIsAsManyCentsAsPublished) {
  // K dx / L: a hole 1 mm nearer the window raises by +6.939 cents at L = 250 mm
  std::vector<PlaceOfNote> places = whistle_places();
  places[4].effective_length_mm = places[11].effective_length_mm = 250.0;
  std::vector<InstrumentCents> bench(20, {std::vector<std::optional<double>>(places.size(), 0.0)});
  for (InstrumentCents& flute : bench) flute.moderate_cents[4] = flute.moderate_cents[11] = -6.939;
  const auto advice = bench_advice(places, bench, Kind::whistle);
  EXPECT_NEAR(*of_degree(advice.value(), 7).move_mm, 1.0, 0.005);
}

TEST(HoleAdvice, RegistersThatDisagreeAreSaidAndMakeItsPlaceLessSure) {
  const BenchAdvice alike = advice_of({.too_far_mm = {{7, 0.8}}}, 3);
  const BenchAdvice split = advice_of({.too_far_mm = {{7, 0.8}}, .high_register_cents = 6.0, .split_degree = 7}, 3);
  EXPECT_FALSE(of_degree(alike, 7).registers_disagree);
  const HoleAdvice& hole = of_degree(split, 7);
  EXPECT_TRUE(hole.registers_disagree);
  ASSERT_EQ(hole.by_register.size(), 2U);
  EXPECT_NEAR(hole.by_register[1].common.cents - hole.by_register[0].common.cents, 6.0, 1.0);
  EXPECT_NEAR(*hole.move_mm, 0.8, 0.15);
  EXPECT_GT(*hole.move_u95_mm, 3.0 / 8.8);  // half of 6 cents at 8.8 cents a mm
}

TEST(HoleAdvice, RegistersThatPullOppositeWaysGetNone) {
  const HoleAdvice hole = of_degree(advice_of({.high_register_cents = 12.0, .split_degree = 7}, 3), 7);
  EXPECT_TRUE(hole.registers_disagree);
  EXPECT_FALSE(hole.is_sure);
  EXPECT_FALSE(hole.move_mm);
}

TEST(HoleAdvice, WhatTheSlideAnswersIsNotSeen) {
  const BenchAdvice as_usual = advice_of({.too_far_mm = {{7, 0.8}}}, 4);
  const BenchAdvice far_out = advice_of({.too_far_mm = {{7, 0.8}}, .heads_out_mm = 3.0}, 4);
  EXPECT_NEAR(far_out.unobservable_slide_mm - as_usual.unobservable_slide_mm, 3.0, 0.05);
  for (std::size_t i = 0; i < far_out.degrees.size(); ++i)
    EXPECT_NEAR(far_out.degrees[i].common.cents, as_usual.degrees[i].common.cents, 0.1);
}

TEST(HoleAdvice, NotesThatNoOneHoleGivesGetCentsButNoPlace) {
  std::vector<PlaceOfNote> places = whistle_places();
  std::vector<InstrumentCents> bench = draw_bench_cents({.note_sd_cents = 1.0}, 5).instruments;
  for (InstrumentCents& flute : bench) *flute.moderate_cents[5] += 9.0, *flute.moderate_cents[12] += 9.0;
  EXPECT_TRUE(of_degree(*bench_advice(places, bench, Kind::recorder), 9).move_mm);
  for (const std::size_t note : {5U, 12U}) places[note].semitones_above_lowest += 1;  // a flat seventh: forked
  const HoleAdvice fork = of_degree(*bench_advice(places, bench, Kind::whistle), 10);
  EXPECT_EQ(fork.work, HoleWork::no_one_hole);
  EXPECT_NEAR(fork.common.cents, 9.0, 1.0);
  EXPECT_FALSE(fork.move_mm);
}

TEST(HoleAdvice, TooFewInstrumentsOrDegreesHaveNothingInCommon) {
  const auto places = whistle_places();
  EXPECT_FALSE(bench_advice(places, {}, Kind::whistle));
  EXPECT_FALSE(bench_advice(places, draw_bench_cents({.instruments = 7}, 1).instruments, Kind::whistle));
  EXPECT_TRUE(bench_advice(places, draw_bench_cents({.instruments = 8}, 1).instruments, Kind::whistle));
  auto three_notes = draw_bench_cents({}, 1).instruments;
  for (InstrumentCents& flute : three_notes)
    for (std::size_t note = 3; note < places.size(); ++note) flute.moderate_cents[note].reset();
  EXPECT_FALSE(bench_advice(places, three_notes, Kind::whistle));
}

TEST(HoleAdvice, OrderOfInstrumentsChangesNothing) {
  auto bench = draw_bench_cents({.too_far_mm = {{7, 0.8}}}, 6).instruments;
  const auto forwards = bench_advice(whistle_places(), bench, Kind::whistle);
  std::ranges::reverse(bench);
  const auto backwards = bench_advice(whistle_places(), bench, Kind::whistle);
  for (std::size_t i = 0; i < forwards->degrees.size(); ++i)
    EXPECT_NEAR(forwards->degrees[i].common.cents, backwards->degrees[i].common.cents, 1e-9);
}

/// The bench of the sounds, as it truly is: whole registers, one note, the spread and the body off on some instruments.
TEST(HoleAdvice, FindsTheHoleOfTheBenchThatIsHeard) {
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    std::vector<InstrumentCents> bench;
    for (const synthesis::BenchFlute& flute : synthesis::draw_bench({.seed = seed})) {
      if (flute.fault == "silent take" || flute.fault == "wrong key") continue;
      InstrumentCents cents;
      for (const synthesis::TrueNote& note : flute.notes) cents.moderate_cents.push_back(note.moderate_cents);
      bench.push_back(cents);
    }
    const auto advice = bench_advice(whistle_places(), bench, Kind::whistle);
    EXPECT_NEAR(of_degree(advice.value(), 7).move_mm.value_or(0.0), 0.8, 0.2) << seed;
    EXPECT_LE(std::abs(*of_degree(*advice, 7).move_mm - 0.8), 1.4 * *of_degree(*advice, 7).move_u95_mm) << seed;
  }
}

}  // namespace
}  // namespace windway
