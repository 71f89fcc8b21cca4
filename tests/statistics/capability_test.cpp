// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/capability.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

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

TEST(Capability, OfDrawnBenchesLiesWithinItsShareOfTheTruthAsOftenAsItSays) {
  std::mt19937 random(5);
  std::normal_distribution<double> cents(0.0, 1.0);
  for (const std::size_t n : {10U, 30U, 200U}) {
    constexpr int benches = 4000;
    int within = 0;
    for (int bench = 0; bench < benches; ++bench) {
      double sum = 0;
      double squares = 0;
      for (std::size_t i = 0; i < n; ++i) {
        const double value = cents(random);
        sum += value;
        squares += value * value;
      }
      const auto count = static_cast<double>(n);
      const double sd = std::sqrt((squares - sum * sum / count) / (count - 1.0));
      const double cp = capability(0.0, sd, {.lower = -3.0, .upper = 3.0}).value().cp;  // truly 1
      within += std::abs(cp - 1.0) <= capability_u95_share(n) * cp ? 1 : 0;
    }
    EXPECT_NEAR(1.0 * within / benches, 0.95, 0.02) << n;
  }
}

}  // namespace
}  // namespace windway
