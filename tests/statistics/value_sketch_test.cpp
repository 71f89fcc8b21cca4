// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/value_sketch.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <span>

namespace windway {
namespace {

constexpr double half_a_bin_cents = 0.025 + 1e-9;

ValueSketch sketch_of(std::span<const double> values) {
  ValueSketch sketch;
  for (const double value : values) add(sketch, value);
  return sketch;
}

std::vector<double> scattered(std::size_t n, double sd_cents) {
  std::mt19937_64 random(n);
  std::normal_distribution<double> normal(4.0, sd_cents);
  std::vector<double> values(n);
  for (double& value : values) value = normal(random);
  return values;
}

/// By Hyndman and Fan's definition 7, of the values themselves.
double true_quantile(std::vector<double> values, double share) {
  std::ranges::sort(values);
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return std::lerp(values[below], values[above], place - static_cast<double>(below));
}

TEST(ValueSketch, TellsQuantilesWithinHalfABin) {
  for (const std::size_t n : {1U, 2U, 3U, 10U, 997U}) {
    const auto values = scattered(n, 12.0);
    const ValueSketch sketch = sketch_of(values);
    EXPECT_EQ(sketch.count, n);
    for (const double share : {0.0, 0.05, 0.25, 0.5, 0.731, 0.95, 1.0}) {
      EXPECT_NEAR(quantile(sketch, share).value(), true_quantile(values, share), half_a_bin_cents) << n << " " << share;
    }
  }
}

TEST(ValueSketch, OfWholeCentsIsExact) {
  const ValueSketch sketch = sketch_of(std::vector{-3.0, 0.0, 8.0});
  EXPECT_EQ(quantile(sketch, 0.0), -3.0);
  EXPECT_EQ(quantile(sketch, 0.5), 0.0);
  EXPECT_EQ(quantile(sketch, 0.75), 4.0);
  EXPECT_EQ(quantile(sketch, 1.0), 8.0);
}

TEST(ValueSketch, IsTheSameWhateverTheOrder) {
  auto values = scattered(500, 30.0);
  const ValueSketch in_order = sketch_of(values);
  std::ranges::reverse(values);
  EXPECT_EQ(sketch_of(values), in_order);
  std::ranges::sort(values);
  EXPECT_EQ(sketch_of(values), in_order);
}

TEST(ValueSketch, OfMirroredValuesIsMirrored) {
  auto values = scattered(201, 30.0);
  const ValueSketch sketch = sketch_of(values);
  for (double& value : values) value = -value;
  const ValueSketch mirrored = sketch_of(values);
  for (const double share : {0.1, 0.5, 0.8}) {
    EXPECT_NEAR(quantile(mirrored, share).value(), -quantile(sketch, 1.0 - share).value(), 1e-9);
  }
}

TEST(ValueSketch, CountsWhatIsBeyondTheEndsAtTheEnds) {
  const ValueSketch sketch = sketch_of(std::vector{-601.0, -600.0, 0.0, 600.0, 650.0, 1e300});
  EXPECT_EQ(sketch.count, 6U);
  EXPECT_EQ(quantile(sketch, 0.0), -600.0);
  EXPECT_EQ(quantile(sketch, 1.0), 600.0);
}

TEST(ValueSketch, LeavesOutWhatIsNoNumber) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  const ValueSketch sketch =
      sketch_of(std::vector{1.0, std::numeric_limits<double>::quiet_NaN(), infinite, 1.0, -infinite});
  EXPECT_EQ(sketch, sketch_of(std::vector{1.0, 1.0}));
}

TEST(ValueSketch, TakesBoundedRoom) {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> wide(-2000.0, 2000.0);
  ValueSketch sketch;
  for (int i = 0; i < 500'000; ++i) add(sketch, wide(random));
  EXPECT_LE(sketch.bins.size(), 24'001U);
  EXPECT_EQ(sketch.count, 500'000U);
  EXPECT_LT(sketch_of(scattered(100'000, 6.0)).bins.size(), 1200U);
}

TEST(ValueSketch, OfNothingHasNoQuantile) { EXPECT_FALSE(quantile({}, 0.5)); }

}  // namespace
}  // namespace windway
