// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/order_statistics.hpp"

#include <gtest/gtest.h>

#include <cstddef>
#include <vector>

namespace windway {
namespace {

TEST(MedianOf, IsTheMiddleValueWhateverTheOrder) {
  EXPECT_EQ(median_of({3.0, -1.0, 2.0}), 2.0);
  EXPECT_EQ(median_of({7.0}), 7.0);
}

TEST(MedianOf, IsTheMeanOfTheMiddleTwoOfAnEvenCount) {
  EXPECT_EQ(median_of({10.0, 1.0, 4.0, 2.0}), 3.0);
  EXPECT_EQ(median_of({1.0, 2.0}), 1.5);
}

TEST(ValueOfRank, CountsFromTheLeast) {
  const std::vector<double> values{3.0, -1.0, 2.0, 2.0};
  EXPECT_EQ(value_of_rank(values, 0), -1.0);
  EXPECT_EQ(value_of_rank(values, 2), 2.0);
  EXPECT_EQ(value_of_rank(values, 3), 3.0);
}

TEST(MedianOf, IsEmptyForNoValues) { EXPECT_FALSE(median_of({}).has_value()); }

TEST(RunningMedians, AreTheMediansOfNeighbours) {
  const std::vector<double> values{3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0, 5.0, 3.0, 5.0, 8.0, 9.0, 7.0, 9.0};
  for (std::size_t width = 1; width <= values.size(); ++width) {
    const std::vector<double> medians = running_medians(values, width);
    ASSERT_EQ(medians.size(), values.size() + 1 - width);
    for (std::size_t k = 0; k < medians.size(); ++k) {
      const auto first = values.begin() + static_cast<std::ptrdiff_t>(k);
      EXPECT_EQ(medians[k], median_of({first, first + static_cast<std::ptrdiff_t>(width)})) << width << " from " << k;
    }
  }
}

TEST(RunningMedians, AreNoneWhereThereAreFewerValues) {
  EXPECT_TRUE(running_medians(std::vector{1.0, 2.0}, 3).empty());
}

}  // namespace
}  // namespace windway
