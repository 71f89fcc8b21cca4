// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/random_effects.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

/// Four values at -3, -1, 1, 3 of variance 1 each: their mean is 0 whatever is added alike.
double sum_of_squares(double added) { return 20.0 / (1.0 + added); }

TEST(AddedVariance, IsWhatMakesTheSumOfSquaresItsExpectation) {
  EXPECT_NEAR(added_variance(sum_of_squares, 3.0), 20.0 / 3.0 - 1.0, 1e-9);
}

TEST(AddedVariance, IsNoneWhereTheValuesScatterNoMoreThanTheirOwn) {
  EXPECT_EQ(added_variance([](double added) { return 2.0 / (1.0 + added); }, 3.0), 0.0);
}

}  // namespace
}  // namespace windway
