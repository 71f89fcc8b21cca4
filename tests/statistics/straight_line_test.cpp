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

}  // namespace
}  // namespace windway
