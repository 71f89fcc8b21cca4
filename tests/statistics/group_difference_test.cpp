// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/group_difference.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "units/coverage_factor.hpp"

namespace windway {
namespace {

Moments drawn(std::mt19937_64& random, int n, double mean, double sd) {
  std::normal_distribution<double> normal(mean, sd);
  Moments moments;
  for (int i = 0; i < n; ++i) add(moments, normal(random));
  return moments;
}

const Moments few = moments_of(std::vector{5.0, 9.0, 4.0});
const Moments many = moments_of(std::vector{1.0, -2.0, 0.0, 3.0, 1.5, -4.0});

TEST(DifferenceOfMeans, IsTheGroupLessTheRest) {
  const auto difference = difference_of_means(few, many).value();
  EXPECT_NEAR(difference.cents, 6.0 + 1.0 / 12.0, 1e-12);
  const auto turned = difference_of_means(many, few).value();
  EXPECT_EQ(turned.cents, -difference.cents);
  EXPECT_NEAR(turned.u95_cents, difference.u95_cents, 1e-12);
}

TEST(DifferenceOfMeans, HoldsTheTruthNineteenTimesInTwentyWhereSpreadsDiffer) {
  std::mt19937_64 random(21);
  int missed = 0;
  constexpr int draws = 4000;
  for (int draw = 0; draw < draws; ++draw) {
    const Moments group = drawn(random, 5, 3.0, 9.0);
    const auto difference = difference_of_means(group, drawn(random, 40, 1.0, 3.0)).value();
    missed += std::abs(difference.cents - 2.0) > difference.u95_cents ? 1 : 0;
  }
  EXPECT_NEAR(missed, 0.05 * draws, 60.0);  // four standard deviations of the count
}

TEST(DifferenceOfMeans, DoesNotMindWhereTheMeansStand) {
  Moments moved_few = few;
  Moments moved_many = many;
  moved_few.mean += 1200.0;
  moved_many.mean += 1200.0;
  EXPECT_NEAR(difference_of_means(moved_few, moved_many).value().cents, difference_of_means(few, many).value().cents,
              1e-9);
}

TEST(DifferenceOfMeans, TakesTheDegreesOfTheOnlyOneThatVaries) {
  const auto difference = difference_of_means(few, moments_of(std::vector{1.0, 1.0, 1.0, 1.0})).value();
  EXPECT_NEAR(difference.u95_cents, u95_factor(2.0) * std::sqrt(14.0 / 6.0), 1e-12);
}

TEST(DifferenceOfMeans, AllowsForManyComparisons) {
  EXPECT_EQ(difference_of_means(few, many, 1).value().u95_cents, difference_of_means(few, many).value().u95_cents);
  EXPECT_EQ(difference_of_means(few, many, 36).value().cents, difference_of_means(few, many).value().cents);
  EXPECT_GT(difference_of_means(few, many, 36).value().u95_cents,
            1.5 * difference_of_means(few, many).value().u95_cents);
}

TEST(U95Factor, OfManyAtOnceLeavesNoneOutsideInNineteenOfTwentySets) {
  EXPECT_NEAR(u95_factor(7.0, 1), u95_factor(7.0), 1e-9);
  for (const std::size_t comparisons : {2U, 36U, 18000U}) {
    const double inside = 1.0 - std::erfc(u95_factor(1e9, comparisons) / std::sqrt(2.0));
    EXPECT_NEAR(std::pow(inside, static_cast<double>(comparisons)), 0.95, 1e-5) << comparisons;
  }
}

TEST(DifferenceOfMeans, NeedsTwoValuesInEachAndASpread) {
  const Moments one = moments_of(std::vector{5.0});
  EXPECT_FALSE(difference_of_means(one, many));
  EXPECT_FALSE(difference_of_means(many, one));
  EXPECT_FALSE(difference_of_means({}, {}));
  EXPECT_FALSE(difference_of_means(moments_of(std::vector{1.0, 1.0}), moments_of(std::vector{2.0, 2.0})));
}

}  // namespace
}  // namespace windway
