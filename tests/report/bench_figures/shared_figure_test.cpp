// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/read_picture.hpp"

namespace windway {
namespace {

using namespace figure_tests;

HoleAdvice degree(int midi, double cents, double u95_cents, bool is_sure) {
  HoleAdvice advice;
  advice.common = {cents, u95_cents};
  advice.by_register = {{NoteId{midi}, 1, {cents, u95_cents}}, {NoteId{midi + 12}, 2, {cents, u95_cents}}};
  advice.is_sure = is_sure;
  return advice;
}

TEST(SharedFigure, FillsTheDotWhereItIsSureAndPutsItAtItsCents) {
  BenchAdvice advice;
  advice.degrees = {degree(74, -6.6, 0.9, true), degree(76, 0.4, 1.1, false)};
  const RowsFigure figure = shared_figure(advice, batch_tests::made_up_entry("A", {}));
  const auto scale = figures_in(figure.axis, "", "x");
  ASSERT_EQ(figure.rows.size(), 2U);
  EXPECT_EQ(figure.rows[0].name, "D5, D6");
  EXPECT_NEAR(value_at(places_of(figure.rows[0].picture, "//circle[@class='dot move']", "cx").at(0), scale), -6.6,
              0.01);
  EXPECT_NEAR(value_at(places_of(figure.rows[1].picture, "//circle[@class='ring reach']", "cx").at(0), scale), 0.4,
              0.01);
  const auto ends = places_of(figure.rows[0].picture, "//line[@class='interval']", "x1");
  EXPECT_NEAR(value_at(ends.at(0), scale), -7.5, 0.01);
  EXPECT_EQ(figure.rows[0].words, "6.6 cents flat (± 0.9)");
  EXPECT_EQ(figure.rows[1].words, "nothing sure");
}

TEST(SharedFigure, HasMoreFiguresThanZeroOnAPhone) {
  for (const double cents : {-0.3, 1.0, -6.6, 12.0, 40.0}) {
    BenchAdvice advice;
    advice.degrees = {degree(74, cents, 0.9, true)};
    const auto axis = parsed(shared_figure(advice, batch_tests::made_up_entry("A", {})).axis);
    EXPECT_GE(axis.select_nodes("//text[not(@class='second')]").size(), 3U) << cents;
  }
}

}  // namespace
}  // namespace windway
