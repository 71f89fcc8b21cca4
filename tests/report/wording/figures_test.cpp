// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/figures.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace windway {
namespace {

// The rounding rule follows JCGM 100:2008, 7.2.6: a result has no more digits than its uncertainty justifies.
TEST(PlacesDeserved, EndWithTheFirstDigitOfTheUncertainty) {
  EXPECT_EQ(places_deserved(0.4, 2), 1);
  EXPECT_EQ(places_deserved(0.04, 2), 2);
  EXPECT_EQ(places_deserved(4.0, 2), 0);
  EXPECT_EQ(places_deserved(40.0, 2), 0);
}

TEST(PlacesDeserved, FollowTheUncertaintyAsItIsRounded) {
  EXPECT_EQ(places_deserved(0.94, 2), 1);
  EXPECT_EQ(places_deserved(0.96, 2), 0);  // shown as 1
  EXPECT_EQ(places_deserved(0.096, 2), 1);
}

TEST(PlacesDeserved, AreNeverMoreThanAskedFor) {
  EXPECT_EQ(places_deserved(0.0001, 1), 1);
  EXPECT_EQ(places_deserved(0.0, 1), 1);
  EXPECT_EQ(places_deserved(std::numeric_limits<double>::quiet_NaN(), 1), 1);
}

TEST(Fixed, HasNoNegativeZero) {
  EXPECT_EQ(fixed(-0.04, 1), "0.0");
  EXPECT_EQ(fixed(-0.06, 1), "-0.1");
}

TEST(SignedFixed, GivesZeroNoSign) {
  EXPECT_EQ(signed_fixed(0.04, 1), "0.0");
  EXPECT_EQ(signed_fixed(3.62, 1), "+3.6");
  EXPECT_EQ(signed_fixed(-3.62, 1), "-3.6");
}

TEST(PlusMinus, IsAtLeastOneUnitInTheLastPlaceShown) {
  EXPECT_EQ(plus_minus(0.02, 1), "± 0.1");
  EXPECT_EQ(plus_minus(0.41, 1), "± 0.4");
  EXPECT_EQ(plus_minus(2.4, 0), "± 2");
}

TEST(SignedWithU95, HasThePlacesThatTheUncertaintyDeserves) {
  EXPECT_EQ(signed_with_u95(2.44, 0.3), "+2.4 (± 0.3)");
  EXPECT_EQ(signed_with_u95(-2.44, 3), "-2 (± 3)");
  EXPECT_EQ(signed_with_u95(0.01, 0.02), "0.0 (± 0.1)");
}

TEST(Shortest, LeavesOutWhatSaysNothing) {
  EXPECT_EQ(shortest(440.0), "440");
  EXPECT_EQ(shortest(442.5), "442.5");
}

}  // namespace
}  // namespace windway
