// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/robust_weights.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

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
