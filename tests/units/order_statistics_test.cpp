// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/order_statistics.hpp"

#include <gtest/gtest.h>

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

TEST(MedianOf, IsEmptyForNoValues) { EXPECT_FALSE(median_of({}).has_value()); }

}  // namespace
}  // namespace windway
