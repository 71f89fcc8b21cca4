// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/moments.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace windway {
namespace {

std::vector<double> scattered(std::size_t n) {
  std::mt19937_64 random(1);
  std::normal_distribution<double> normal(-12.0, 6.0);
  std::vector<double> values(n);
  for (double& value : values) value = normal(random);
  return values;
}

void expect_alike(const Moments& a, const Moments& b) {
  EXPECT_EQ(a.n, b.n);
  EXPECT_NEAR(a.mean, b.mean, 1e-12);
  EXPECT_NEAR(a.m2, b.m2, 1e-10 * b.m2);
  EXPECT_EQ(a.min, b.min);
  EXPECT_EQ(a.max, b.max);
}

TEST(Moments, TellCountMeanSpreadAndExtremes) {
  const Moments moments = moments_of(std::vector{-4.0, -7.0, -1.0, -4.0});
  EXPECT_EQ(moments.n, 4U);
  EXPECT_DOUBLE_EQ(moments.mean, -4.0);
  EXPECT_DOUBLE_EQ(moments.m2, 18.0);
  EXPECT_EQ(moments.min, -7.0);
  EXPECT_EQ(moments.max, -1.0);
  EXPECT_DOUBLE_EQ(sample_sd(moments).value(), std::sqrt(6.0));
}

TEST(Moments, OfFewerThanTwoValuesHaveNoSd) {
  EXPECT_FALSE(sample_sd({}));
  EXPECT_FALSE(sample_sd(moments_of(std::vector{3.0})));
  EXPECT_EQ(sample_sd(moments_of(std::vector{3.0, 3.0})), 0.0);
}

TEST(Moments, OfEqualValuesHaveExactlyThatMeanAndNoSpread) {
  const Moments moments = moments_of(std::vector<double>(1000, 0.1));
  EXPECT_EQ(moments.mean, 0.1);
  EXPECT_EQ(moments.m2, 0.0);
}

TEST(Moments, MergedFromAnySplitAreThoseOfTheWhole) {
  const auto values = scattered(40);
  const Moments whole = moments_of(values);
  for (std::size_t at = 0; at <= values.size(); ++at) {
    const std::span<const double> all = values;
    expect_alike(merged(moments_of(all.first(at)), moments_of(all.subspan(at))), whole);
  }
}

TEST(Moments, MergeInAnyOrderAndAnyGrouping) {
  const auto values = scattered(90);
  const std::span<const double> all = values;
  const Moments a = moments_of(all.first(10));
  const Moments b = moments_of(all.subspan(10, 55));
  const Moments c = moments_of(all.subspan(65));
  const Moments whole = moments_of(values);
  expect_alike(merged(a, merged(b, c)), whole);
  expect_alike(merged(merged(c, a), b), whole);
}

TEST(Moments, MergedWithNothingStayAsTheyAre) {
  const Moments moments = moments_of(scattered(5));
  EXPECT_EQ(merged(moments, {}), moments);
  EXPECT_EQ(merged({}, moments), moments);
  EXPECT_EQ(merged({}, {}), Moments{});
}

TEST(Moments, OfShiftedAndStretchedValuesShiftAndStretch) {
  auto values = scattered(50);
  const Moments before = moments_of(values);
  for (double& value : values) value = 100.0 + 3.0 * value;
  expect_alike(moments_of(values), {.n = before.n,
                                    .mean = 100.0 + 3.0 * before.mean,
                                    .m2 = 9.0 * before.m2,
                                    .min = 100.0 + 3.0 * before.min,
                                    .max = 100.0 + 3.0 * before.max});
}

}  // namespace
}  // namespace windway
