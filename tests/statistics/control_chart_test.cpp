// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/control_chart.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace windway {
namespace {

std::vector<double> normal_values(std::size_t n, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<double> values(n);
  for (double& value : values) value = normal(random);
  return values;
}

TEST(IndividualsChart, ReachesThreeMovingRangesOver1128EitherWay) {
  const auto chart = individuals_chart(std::vector{1.0, 3.0, 1.0, 3.0, 1.0, 3.0, 1.0, 3.0}).value();
  EXPECT_DOUBLE_EQ(chart.mean, 2.0);
  EXPECT_DOUBLE_EQ(chart.mean_moving_range, 2.0);
  EXPECT_DOUBLE_EQ(chart.upper, 2.0 + 6.0 / 1.128);
  EXPECT_DOUBLE_EQ(chart.lower, 2.0 - 6.0 / 1.128);
  EXPECT_TRUE(chart.outside.empty());
}

TEST(IndividualsChart, NeedsEightValues) {
  EXPECT_FALSE(individuals_chart({}));
  EXPECT_FALSE(individuals_chart(normal_values(7, 1)));
  EXPECT_TRUE(individuals_chart(normal_values(8, 1)));
}

TEST(IndividualsChart, FindsStraysOnBothSidesByTheirPlace) {
  auto values = normal_values(60, 2);
  for (double& value : values) value = std::clamp(value, -2.0, 2.0);
  values[17] = 9.0;
  values[41] = -9.0;
  EXPECT_EQ(individuals_chart(values).value().outside, (std::vector<std::size_t>{17, 41}));
}

TEST(IndividualsChart, HasNothingOutsideWhereAllAreEqual) {
  EXPECT_TRUE(individuals_chart(std::vector<double>(10, 0.1)).value().outside.empty());
}

TEST(IndividualsChart, SeesADriftThatTheSameValuesShuffledDoNotShow) {
  std::vector<double> drifting;
  for (int i = 0; i < 20; ++i) drifting.push_back(i);
  EXPECT_FALSE(individuals_chart(drifting).value().outside.empty());
  std::ranges::shuffle(drifting, std::mt19937_64(3));
  EXPECT_TRUE(individuals_chart(drifting).value().outside.empty());
}

TEST(IndividualsChart, LimitsAreThreeStandardDeviationsOfIndependentValues) {
  const auto chart = individuals_chart(normal_values(100'000, 4)).value();
  EXPECT_NEAR(chart.upper, 3.0, 0.04);
  EXPECT_NEAR(chart.lower, -3.0, 0.04);
  EXPECT_NEAR(static_cast<double>(chart.outside.size()), 270.0, 70.0);  // 0.27 %
}

TEST(IndividualsChart, ShiftsAndStretchesWithTheValues) {
  auto values = normal_values(30, 5);
  values[4] = 8.0;
  const auto before = individuals_chart(values).value();
  for (double& value : values) value = 442.0 - 2.0 * value;
  const auto after = individuals_chart(values).value();
  EXPECT_NEAR(after.upper, 442.0 - 2.0 * before.lower, 1e-9);
  EXPECT_NEAR(after.lower, 442.0 - 2.0 * before.upper, 1e-9);
  EXPECT_EQ(after.outside, before.outside);
  EXPECT_EQ(after.outside, std::vector<std::size_t>{4});
}

TEST(ChartFactors, OfLargeSubgroupsNearTheirLimit) {
  const ChartFactors factors = chart_factors(1000);
  EXPECT_NEAR(factors.c4, 4.0 * 999.0 / (4.0 * 1000.0 - 3.0), 1e-7);  // the usual approximation
  EXPECT_NEAR(factors.a3, 3.0 / std::sqrt(1000.0), 1e-4);
  EXPECT_NEAR(factors.b3 + factors.b4, 2.0, 1e-12);
}

std::vector<std::vector<double>> subgroups_of(std::size_t count, std::size_t size) {
  std::vector<std::vector<double>> subgroups;
  for (std::size_t i = 0; i < count; ++i) subgroups.push_back(normal_values(size, 100 + i));
  return subgroups;
}

TEST(SubgroupChart, TellsTheSdWithinWhateverTheSize) {
  for (const std::size_t size : {2U, 5U, 12U}) {
    const auto chart = subgroup_chart(subgroups_of(20'000, size)).value();
    EXPECT_NEAR(chart.sigma, 1.0, 0.015) << size;
    EXPECT_NEAR(chart.mean_upper, 3.0 / std::sqrt(static_cast<double>(size)), 0.03) << size;
    EXPECT_EQ(chart.subgroup_size, size);
  }
}

TEST(SubgroupChart, TellsAShiftedSubgroupFromAScatteredOne) {
  auto subgroups = subgroups_of(20, 5);
  for (double& value : subgroups[3]) value += 5.0;
  const double middle = subgroups[8][0];
  for (double& value : subgroups[8]) value = middle + 0.1 * (value - middle);
  subgroups[12] = {-6.0, 6.0, -6.0, 6.0, 0.0};
  const auto chart = subgroup_chart(subgroups).value();
  EXPECT_EQ(chart.means_outside, std::vector<std::size_t>{3});
  EXPECT_LT(chart.sd_upper, 6.0);  // of the scattered subgroup it is sqrt(144 / 4) = 6
  EXPECT_LT(chart.mean_sd, chart.sd_upper);
}

TEST(SubgroupChart, OfTwoValuesEachIsThatOfTheirDifference) {
  std::vector<std::vector<double>> subgroups;
  for (int i = 0; i < 4; ++i) subgroups.insert(subgroups.end(), {{1.0, 3.0}, {2.0, 6.0}});
  const auto chart = subgroup_chart(subgroups).value();
  EXPECT_DOUBLE_EQ(chart.grand_mean, 3.0);
  EXPECT_DOUBLE_EQ(chart.mean_sd, 3.0 / std::sqrt(2.0));
  EXPECT_EQ(chart.sd_lower, 0.0);
}

TEST(SubgroupChart, IsNotMadeOfTooFewOrUnequalSubgroups) {
  EXPECT_FALSE(subgroup_chart({}));
  EXPECT_FALSE(subgroup_chart(subgroups_of(1, 20)));
  EXPECT_FALSE(subgroup_chart(subgroups_of(20, 1)));
  auto unequal = subgroups_of(20, 5);
  unequal[7].pop_back();
  EXPECT_FALSE(subgroup_chart(unequal));
  unequal[7].clear();
  EXPECT_FALSE(subgroup_chart(unequal));
}

TEST(SubgroupChart, NeedsSevenDegreesOfFreedomWithinItsSubgroups) {
  EXPECT_FALSE(subgroup_chart(subgroups_of(6, 2)));
  EXPECT_TRUE(subgroup_chart(subgroups_of(7, 2)));
  EXPECT_FALSE(subgroup_chart(subgroups_of(2, 4)));
  EXPECT_TRUE(subgroup_chart(subgroups_of(2, 5)));
}

}  // namespace
}  // namespace windway
