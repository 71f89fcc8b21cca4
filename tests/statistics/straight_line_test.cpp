// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/straight_line.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace windway {
namespace {

TEST(FitLine, GoesThroughPointsOfALine) {
  const std::vector<LinePoint> points{{1, 5, 0.5}, {2, 7, 3}, {4, 11, 1}};
  const StraightLine line = fit_line(points);
  EXPECT_NEAR(line.slope, 2.0, 1e-12);
  EXPECT_NEAR(line.at(0), 3.0, 1e-12);
  EXPECT_NEAR(line.yy - line.slope * line.xy, 0.0, 1e-12);
}

TEST(FitLine, AWeightOfTwoIsTwoPoints) {
  const std::vector<LinePoint> heavy{{0, 1, 2}, {1, 0, 1}, {3, 5, 1}}, twice{{0, 1}, {0, 1}, {1, 0}, {3, 5}};
  EXPECT_NEAR(fit_line(heavy).slope, fit_line(twice).slope, 1e-12);
  EXPECT_NEAR(fit_line(heavy).at(2), fit_line(twice).at(2), 1e-12);
  EXPECT_NEAR(fit_line(heavy).xx, fit_line(twice).xx, 1e-12);
}

TEST(FitLine, OfOneAbscissaIsLevel) {
  const std::vector<LinePoint> points{{2, 1}, {2, 3}};
  EXPECT_EQ(fit_line(points).slope, 0.0);
  EXPECT_EQ(fit_line(points).at(7), 2.0);
}

// scipy.stats.linregress and scipy.stats.t of SciPy 1.10.1: slope and 0.975 quantile times stderr, times n - 1.
// Student's quantile is good to nine digits on both sides.
TEST(RiseOf, IsWhatScipysRegressionGives) {
  const CentsEstimate seven = rise_of(std::vector{1.2, 0.4, 2.9, 3.1, 2.2, 4.8, 4.1}).value();
  EXPECT_NEAR(seven.cents, 3.5999999999999996, 1e-12);
  EXPECT_NEAR(seven.u95_cents, 2.6949483223649953, 2e-9);
  const CentsEstimate three = rise_of(std::vector{5.0, -1.0, 2.5}).value();
  EXPECT_NEAR(three.cents, -2.5, 1e-12);
  EXPECT_NEAR(three.u95_cents, 69.6913418870969, 2e-9 * 70);
}

TEST(RiseOf, KnowsAStraightLineExactly) {
  const CentsEstimate rise = rise_of(std::vector{7.0, 5.0, 3.0, 1.0}).value();
  EXPECT_NEAR(rise.cents, -6.0, 1e-12);
  EXPECT_NEAR(rise.u95_cents, 0.0, 1e-6);
}

TEST(RiseOf, NeedsThreeValues) {
  EXPECT_FALSE(rise_of({}));
  EXPECT_FALSE(rise_of(std::vector{1.0, 2.0}));
  EXPECT_TRUE(rise_of(std::vector{1.0, 1.0, 1.0}));
}

}  // namespace
}  // namespace windway
