// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/robust_centre.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace windway {
namespace {

std::ptrdiff_t outliers_in(const std::vector<double>& values) {
  const RobustCentre centre = robust_centre(values).value();
  return std::ranges::count_if(values, [&](double value) { return is_outlier(value, centre); });
}

TEST(RobustCentre, OfNormalValuesIsMeanAndSd) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal(-3.0, 6.0);
  std::vector<double> values(100'000);
  for (double& value : values) value = normal(random);
  const RobustCentre centre = robust_centre(values).value();
  EXPECT_NEAR(centre.median, -3.0, 0.1);
  EXPECT_NEAR(centre.scaled_mad, 6.0, 0.1);
  EXPECT_EQ(centre.scale, centre.scaled_mad);
  EXPECT_LT(outliers_in(values), 100);  // 0.05 % of a normal distribution
  EXPECT_GT(outliers_in(values), 20);
}

TEST(RobustCentre, TwoStraysCannotHideEachOther) {
  // About their mean of 13.4 and SD of 26 neither stray would stand out.
  const std::vector<double> values{1.0, -2.0, 3.0, 0.0, 2.0, -1.0, 60.0, 62.0, -1.5, 0.5};
  const RobustCentre centre = robust_centre(values).value();
  EXPECT_TRUE(is_outlier(60.0, centre));
  EXPECT_TRUE(is_outlier(62.0, centre));
  EXPECT_EQ(outliers_in(values), 2);
}

TEST(RobustCentre, DrawsTheLineAtAModifiedZOfThreeAndAHalf) {
  const RobustCentre centre = robust_centre({-1.0, 0.0, 1.0}).value();
  EXPECT_DOUBLE_EQ(centre.scale, 1.482602218505602);
  for (const double sign : {-1.0, 1.0}) {
    EXPECT_FALSE(is_outlier(sign * 5.189, centre));
    EXPECT_TRUE(is_outlier(sign * 5.190, centre));
  }
  EXPECT_NEAR(modified_z(-5.0, centre).value(), -5.0 * 0.6744897501960817, 1e-12);
}

TEST(RobustCentre, WithMostValuesEqualStillTellsStraysOnly) {
  const std::vector<double> values{0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, -1.0, 1.0, 30.0};
  const RobustCentre centre = robust_centre(values).value();
  EXPECT_EQ(centre.scaled_mad, 0.0);
  EXPECT_GT(centre.scale, 0.0);
  EXPECT_FALSE(is_outlier(1.0, centre));
  EXPECT_TRUE(is_outlier(30.0, centre));
}

TEST(RobustCentre, OfEqualValuesCallsNothingAnOutlier) {
  const RobustCentre centre = robust_centre({4.0, 4.0, 4.0}).value();
  EXPECT_FALSE(is_outlier(4.0, centre));
  EXPECT_FALSE(is_outlier(5.0, centre));
  EXPECT_FALSE(modified_z(5.0, centre));
  EXPECT_FALSE(is_outlier(7.0, robust_centre({4.0}).value()));
}

TEST(RobustCentre, ShiftsAndStretchesWithTheValues) {
  std::vector<double> values{3.0, 8.0, -2.0, 5.0, 40.0, 1.0};
  const RobustCentre before = robust_centre(values).value();
  for (double& value : values) value = 100.0 - 2.0 * value;
  const RobustCentre after = robust_centre(values).value();
  EXPECT_DOUBLE_EQ(after.median, 100.0 - 2.0 * before.median);
  EXPECT_DOUBLE_EQ(after.scale, 2.0 * before.scale);
  EXPECT_EQ(outliers_in(values), 1);
}

TEST(RobustCentre, OfNothingIsEmpty) { EXPECT_FALSE(robust_centre({})); }

TEST(RobustSd, IsTheScaledMedianSizeWithTheCorrectionForFew) {
  // Sizes 1, 1, 2, 3, 9: the median 2; the far one moves nothing.
  EXPECT_NEAR(robust_sd({1, -1, 2, -3, 9}), 5.0 / 4.2 * 1.482602218505602 * 2.0, 1e-12);
  EXPECT_EQ(robust_sd({1, -1, 2, -3, 9}), robust_sd({1, -1, 2, -3, 900}));
  EXPECT_EQ(robust_sd({}), 0.0);
  EXPECT_EQ(robust_sd({0, 0, 0}), 0.0);
}

TEST(RobustWeights, HuberWeighsFullyToTwoStandardDeviations) {
  EXPECT_EQ(huber_weight(0.0), 1.0);
  EXPECT_EQ(huber_weight(-2.0), 1.0);
  EXPECT_DOUBLE_EQ(huber_weight(4.0), 0.5);  // so that weight times residual stays at two
  EXPECT_DOUBLE_EQ(huber_weight(-8.0), 0.25);
}

TEST(RobustWeights, BisquareFallsSmoothlyToNothing) {
  EXPECT_EQ(bisquare_weight(0.0), 1.0);
  EXPECT_DOUBLE_EQ(bisquare_weight(bisquare_reach_sds / 2.0), 0.5625);  // (1 - 1/4)^2
  EXPECT_DOUBLE_EQ(bisquare_weight(-bisquare_reach_sds / 2.0), 0.5625);
  EXPECT_EQ(bisquare_weight(bisquare_reach_sds), 0.0);
  EXPECT_EQ(bisquare_weight(100.0), 0.0);
}

}  // namespace
}  // namespace windway
