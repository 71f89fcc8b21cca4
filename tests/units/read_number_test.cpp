// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/read_number.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway {
namespace {

TEST(NumberIn, ReadsTheWholeTextWithADecimalPoint) {
  EXPECT_EQ(number_in("440.5"), 440.5);
  EXPECT_EQ(number_in("+3"), 3.0);
  EXPECT_EQ(number_in("-1e-3"), -0.001);
  EXPECT_TRUE(std::isnan(number_in("nan").value_or(0)));
}

TEST(NumberIn, IsEmptyOfAllElse) {
  for (const char* text : {"", "+", "+-3", "++3", "440,5", "440 ", " 440", "440 Hz", "0x10", "five"})
    EXPECT_FALSE(number_in(text)) << text;
}

TEST(WholeNumberIn, ReadsOneToNineDigits) {
  EXPECT_EQ(whole_number_in("0"), 0);
  EXPECT_EQ(whole_number_in("007"), 7);
  EXPECT_EQ(whole_number_in("999999999"), 999999999);
  for (const char* text : {"", "+1", "-1", "1.0", "1000000000", "2a"}) EXPECT_FALSE(whole_number_in(text)) << text;
}

}  // namespace
}  // namespace windway
