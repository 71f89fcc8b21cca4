// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "bench/made_up_entry.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/read_picture.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::with_tolerance;
using namespace figure_tests;

/// The lowest note of so many instruments lies within 5 cents; of every `beyond_every`-th 30 cents flat. Tolerance 20.
BenchTally tally_with(int instruments, int beyond_every) {
  BenchTally tally;
  for (int i = 0; i < instruments; ++i) {
    const double wobble = (i * 7 % 11) - 5.0;
    const bool is_beyond = i % beyond_every == beyond_every - 1;
    add(tally, with_tolerance(20, made_up_entry("HW-" + std::to_string(1000 + i),
                                                {is_beyond ? -30.0 - 0.01 * i : wobble, 0.5 * wobble})));
  }
  return tally;
}

TEST(NotesFigure, PutsCrossesWhereTheCentsOfThoseBeyondTheToleranceAre) {
  const BenchTally tally = tally_with(60, 50);
  const BenchFindings findings = findings_of(tally);
  const RowsFigure figure = notes_figure(tally, findings);
  ASSERT_EQ(figure.rows.size(), 2U);
  const auto scale = figures_in(figure.axis, "", "x");
  const auto crosses = places_of(figure.rows[0].picture, "//svg[path[@class='cross']]", "x");
  ASSERT_EQ(crosses.size(), 1U);
  EXPECT_NEAR(value_at(crosses[0], scale), -30.49, 0.02);
  EXPECT_EQ(figure.rows[0].name, "D5");
  EXPECT_EQ(figure.rows[0].further, "HW-1049 (-30.5)");
  EXPECT_TRUE(places_of(figure.rows[1].picture, "//svg[path[@class='cross']]", "x").empty());
}

TEST(NotesFigure, CallsACrossAReadingAsItMayBeTooCloseToCall) {
  BenchTally tally = tally_with(60, 1000);
  auto close = with_tolerance(20, made_up_entry("CLOSE", {20.4, 0.0}));
  close.result = close.judged.back().judged.result = VerdictResult::too_close;
  add(tally, close);
  const RowsFigure figure = notes_figure(tally, findings_of(tally));
  EXPECT_EQ(places_of(figure.rows[0].picture, "//svg[path[@class='cross']]", "x").size(), 1U);
  EXPECT_NE(figure.rows[0].said.find("read beyond it CLOSE"), std::string::npos) << figure.rows[0].said;
  EXPECT_TRUE(
      std::ranges::any_of(figure.keys, [](const FigureKey& key) { return key.meaning == "an instrument beyond it"; }));
}

TEST(NotesFigure, DrawsTheUsualRangeOfTheTable) {
  const BenchTally tally = tally_with(60, 1000);
  const BenchFindings findings = findings_of(tally);
  const RowsFigure figure = notes_figure(tally, findings);
  const auto scale = figures_in(figure.axis, "", "x");
  const NoteFinding& note = findings.notes[0];
  const double from = places_of(figure.rows[0].picture, "//svg[path[@class='wedge']]", "x").at(0);
  const double width = places_of(figure.rows[0].picture, "//svg[path[@class='wedge']]", "width").at(0);
  EXPECT_NEAR(value_at(from, scale), *note.share_5_cents, 0.02);
  EXPECT_NEAR(value_at(from + width, scale), *note.share_95_cents, 0.02);
  const double middle = places_of(figure.rows[0].picture, "//line[@class='notch']", "x1").at(0);
  EXPECT_NEAR(value_at(middle, scale), *note.median_cents, 0.02);
  EXPECT_EQ(figure.words_name, "Cpk");
}

TEST(NotesFigure, WithoutAToleranceHatchesNothingAndSaysTheSd) {
  BenchTally tally;
  for (int i = 0; i < 10; ++i) add(tally, made_up_entry("A", {i - 5.0}));
  const RowsFigure figure = notes_figure(tally, findings_of(tally));
  EXPECT_TRUE(places_of(figure.rows[0].picture, "//rect", "x").empty());
  EXPECT_EQ(figure.words_name, "SD");
  EXPECT_EQ(figure.rows[0].words, "3.0");
}

TEST(NotesFigure, OfOneInstrumentHasItsNotchAlone) {
  BenchTally tally;
  add(tally, made_up_entry("A", {4.0}));
  const RowsFigure figure = notes_figure(tally, findings_of(tally));
  const double notch = places_of(figure.rows[0].picture, "//line[@class='notch']", "x1").at(0);
  EXPECT_NEAR(value_at(notch, figures_in(figure.axis, "", "x")), 4.0, 0.02);
  EXPECT_TRUE(places_of(figure.rows[0].picture, "//path", "d").empty());
}

TEST(NotesFigure, DoesNotGrowWithTheBench) {
  const BenchTally tally = tally_with(5000, 3);
  const RowsFigure figure = notes_figure(tally, findings_of(tally));
  constexpr std::size_t most_bytes = 20'000;
  EXPECT_LT(section_of(figure).text().size(), 3 * most_bytes);
  EXPECT_LT(figure.rows[0].picture.text().size(), most_bytes);
  EXPECT_NE(figure.rows[0].further.find("1665 more"), std::string::npos) << figure.rows[0].further;
}

TEST(NotesFigure, KeepsAWildNoteAtTheEdgeAndSaysSo) {
  BenchTally tally = tally_with(60, 1000);
  add(tally, with_tolerance(20, made_up_entry("WILD", {700.0, 0.0})));
  const RowsFigure figure = notes_figure(tally, findings_of(tally));
  const auto crosses = places_of(figure.rows[0].picture, "//svg[path[@class='cross']]", "x");
  ASSERT_EQ(crosses.size(), 1U);
  EXPECT_EQ(crosses[0], 100.0);
  EXPECT_LT(value_at(100, figures_in(figure.axis, "", "x")), 100);
  EXPECT_NE(figure.sentences.back().find("edge"), std::string::npos);
}

}  // namespace
}  // namespace windway
