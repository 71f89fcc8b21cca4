// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/capability.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace windway {
namespace {

constexpr ToleranceBand band{.lower = -10.0, .upper = 10.0};

TEST(Capability, OfACentredBenchIsTheSameBothWays) {
  const auto centred = capability(0.0, 2.5, band);
  ASSERT_TRUE(centred);
  EXPECT_DOUBLE_EQ(centred->cp, 4.0 / 3.0);
  EXPECT_DOUBLE_EQ(centred->cpk, centred->cp);
}

TEST(Capability, LooksAtTheNearerLimit) {
  for (const double mean : {-4.0, 4.0}) {
    const auto off = capability(mean, 2.0, band);
    ASSERT_TRUE(off);
    EXPECT_DOUBLE_EQ(off->cp, 20.0 / 12.0);
    EXPECT_DOUBLE_EQ(off->cpk, 1.0) << mean;
  }
}

TEST(Capability, OfABenchBeyondTheLimitIsBelowNought) {
  EXPECT_DOUBLE_EQ(capability(13.0, 1.0, band).value().cpk, -1.0);
  EXPECT_DOUBLE_EQ(capability(10.0, 1.0, band).value().cpk, 0.0);
}

TEST(Capability, DoesNotAskForTheUnit) {
  const auto cents = capability(3.0, 2.0, band).value();
  const auto tenths = capability(30.0, 20.0, {.lower = -100.0, .upper = 100.0}).value();
  EXPECT_DOUBLE_EQ(cents.cp, tenths.cp);
  EXPECT_DOUBLE_EQ(cents.cpk, tenths.cpk);
}

TEST(Capability, IsNotToldWithoutASpreadOrABand) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(capability(0.0, 0.0, band));
  EXPECT_FALSE(capability(0.0, -1.0, band));
  EXPECT_FALSE(capability(0.0, infinite, band));
  EXPECT_FALSE(capability(0.0, not_a_number, band));
  EXPECT_FALSE(capability(not_a_number, 1.0, band));
  EXPECT_FALSE(capability(0.0, 1.0, {.lower = -infinite, .upper = 10.0}));
  EXPECT_FALSE(capability(0.0, 1.0, {.lower = 10.0, .upper = 10.0}));
}

}  // namespace
}  // namespace windway
