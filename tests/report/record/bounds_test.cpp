// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/bounds.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace windway {
namespace {

TEST(IsPossible, KeepsToTheBoundsOfTheField) {
  EXPECT_TRUE(is_possible({.key = "slide_mm"}, -3.5));
  EXPECT_FALSE(is_possible({.key = "u95_mm", .traits = at_least_0}, -1e-6));
  EXPECT_TRUE(is_possible({.key = "u95_mm", .traits = at_least_0}, 0));
  EXPECT_FALSE(is_possible({.key = "a4_hz", .traits = above_0}, 0));
  EXPECT_FALSE(is_possible({.key = "register", .traits = at_least_1}, 0));
  EXPECT_FALSE(is_possible({.key = "way_share", .traits = at_most_1}, 1.01));
  EXPECT_FALSE(is_possible({.key = "humidity_percent", .traits = at_most_100}, 101));
}

TEST(IsPossible, TakesZeroForUnsaidWhereNullMayBe) {
  EXPECT_TRUE(is_possible({.key = "effective_length_mm", .traits = above_0 | nullable}, 0));
  EXPECT_FALSE(is_possible({.key = "effective_length_mm", .traits = above_0 | nullable}, -1));
}

TEST(IsPossible, RefusesWhatNothingMeasures) {
  EXPECT_FALSE(is_possible({.key = "moderate_cents"}, 1e6));
  EXPECT_FALSE(is_possible({.key = "cents"}, -1e6));
  EXPECT_FALSE(is_possible({.key = "level_db"}, 1e4));
  EXPECT_FALSE(is_possible({.key = "holds"}, 1e10));
  EXPECT_FALSE(is_possible({.key = "slide_mm"}, std::numeric_limits<double>::infinity()));
  EXPECT_FALSE(is_possible({.key = "slide_mm"}, std::numeric_limits<double>::quiet_NaN()));
}

}  // namespace
}  // namespace windway
