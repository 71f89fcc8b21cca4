// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/likelihoods.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway {
namespace {

TEST(LogSumExp, IsTheLogOfTheSum) { EXPECT_NEAR(log_sum_exp({std::log(2.0), std::log(3.0)}), std::log(5.0), 1e-12); }

TEST(LogSumExp, NeitherOverflowsNorVanishes) {
  EXPECT_NEAR(log_sum_exp({5000, 5000}), 5000 + std::log(2.0), 1e-9);
  EXPECT_NEAR(log_sum_exp({-5000, -5000}), -5000 + std::log(2.0), 1e-9);
}

TEST(RelativeLikelihoods, TheGreatestIsOne) {
  const auto relative = relative_likelihoods({-1000.0, -1000.0 - std::log(4.0)});
  EXPECT_EQ(relative[0], 1.0);
  EXPECT_NEAR(relative[1], 0.25, 1e-12);
}

}  // namespace
}  // namespace windway
