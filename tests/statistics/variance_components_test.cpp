// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/variance_components.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace windway {
namespace {

using Groups = std::vector<std::vector<double>>;

OneWaySums sums_of(const Groups& groups) {
  OneWaySums sums;
  for (const auto& group : groups) add_group(sums, moments_of(group));
  return sums;
}

/// Groups of these sizes, the SD of their true means and that within told.
Groups drawn(std::mt19937_64& random, const std::vector<std::size_t>& sizes, double between_sd, double within_sd) {
  std::normal_distribution<double> normal;
  Groups groups;
  for (const std::size_t size : sizes) {
    std::vector<double> group(size, between_sd * normal(random));
    for (double& value : group) value += within_sd * normal(random);
    groups.push_back(group);
  }
  return groups;
}

const Groups unequal{{1.0, 2.0, 4.0}, {7.0, 9.0}, {3.0}, {5.0, 6.0, 5.0, 8.0}};

void expect_alike(const OneWay& a, const OneWay& b) {
  EXPECT_NEAR(a.ss_between, b.ss_between, 1e-9 * b.ss_between);
  EXPECT_NEAR(a.ss_within, b.ss_within, 1e-9 * b.ss_within);
  EXPECT_EQ(a.df_between, b.df_between);
  EXPECT_EQ(a.df_within, b.df_within);
  EXPECT_NEAR(a.between_variance, b.between_variance, 1e-9 * b.between_variance);
  EXPECT_NEAR(a.n0, b.n0, 1e-9);
}

TEST(OneWay, OfUnequalGroupsIsThatWorkedByHand) {
  const OneWay result = one_way(sums_of(unequal)).value();
  EXPECT_NEAR(result.ss_between, 142.0 / 3.0, 1e-12);
  EXPECT_NEAR(result.ss_within, 38.0 / 3.0, 1e-12);
  EXPECT_EQ(result.df_between, 3U);
  EXPECT_EQ(result.df_within, 6U);
  EXPECT_NEAR(result.n0, 7.0 / 3.0, 1e-12);
  EXPECT_NEAR(result.within_variance, 19.0 / 9.0, 1e-12);
  EXPECT_NEAR(result.between_variance, (142.0 / 9.0 - 19.0 / 9.0) * 3.0 / 7.0, 1e-12);
}

TEST(OneWay, IsNotChangedByAShiftAndAnEmptyGroup) {
  Groups shifted = unequal;
  shifted.insert(shifted.begin() + 1, std::vector<double>{});
  for (auto& group : shifted) {
    for (double& value : group) value += 1000.0;
  }
  expect_alike(one_way(sums_of(shifted)).value(), one_way(sums_of(unequal)).value());
}

TEST(OneWay, TellsBothVariancesOfUnequalGroupsWithoutBias) {
  std::mt19937_64 random(7);
  Moments within;
  Moments between;
  for (int draw = 0; draw < 2000; ++draw) {
    const OneWay result = one_way(sums_of(drawn(random, {2, 3, 2, 7, 1, 4, 2, 2, 3, 5}, 6.0, 2.0))).value();
    add(within, result.within_variance);
    add(between, result.between_variance);
  }
  EXPECT_NEAR(within.mean, 4.0, 0.12);
  EXPECT_NEAR(between.mean, 36.0, 1.6);  // rarely below 0: being told as 0 moves the mean by nothing that shows
}

TEST(OneWay, SetsANegativeVarianceBetweenToZero) {
  const OneWay result = one_way(sums_of({{1.0, 5.0}, {2.0, 4.0}, {0.0, 6.0}})).value();
  EXPECT_EQ(result.between_variance, 0.0);
  EXPECT_EQ(result.f, 0.0);
}

TEST(OneWay, HasNoFWhereNothingVariesWithin) {
  const OneWay result = one_way(sums_of({{1.0, 1.0}, {3.0, 3.0}})).value();
  EXPECT_FALSE(result.f);
  EXPECT_DOUBLE_EQ(result.between_variance, 2.0);
  EXPECT_EQ(result.repeatability.upper, 0.0);
}

TEST(OneWay, NeedsTwoGroupsAndOneRepeat) {
  EXPECT_FALSE(one_way({}));
  EXPECT_FALSE(one_way(sums_of({{1.0, 2.0, 3.0}})));
  EXPECT_FALSE(one_way(sums_of({{1.0}, {2.0}, {3.0}})));
  EXPECT_TRUE(one_way(sums_of({{1.0, 2.0}, {3.0}})));
}

TEST(RepeatabilitySd, OfOneGroupIsItsSampleSd) {
  const auto repeatability = repeatability_sd(sums_of({{1.0, 2.0, 4.0}}));
  ASSERT_TRUE(repeatability);
  EXPECT_DOUBLE_EQ(repeatability->sd, std::sqrt(7.0 / 3.0));
  EXPECT_EQ(repeatability->degrees, 2U);
  EXPECT_FALSE(repeatability_sd(sums_of({{1.0}, {2.0}})));
}

TEST(RepeatabilitySd, IntervalHoldsTheTruthNineteenTimesInTwenty) {
  std::mt19937_64 random(8);
  int below = 0;
  int above = 0;
  constexpr int draws = 4000;
  for (int draw = 0; draw < draws; ++draw) {
    const auto repeatability = repeatability_sd(sums_of(drawn(random, {3, 2, 3, 4}, 6.0, 2.0))).value();
    below += repeatability.upper < 2.0 ? 1 : 0;
    above += repeatability.lower > 2.0 ? 1 : 0;
  }
  EXPECT_NEAR(below, 0.025 * draws, 40.0);  // four standard deviations of the count
  EXPECT_NEAR(above, 0.025 * draws, 40.0);
}

}  // namespace
}  // namespace windway
