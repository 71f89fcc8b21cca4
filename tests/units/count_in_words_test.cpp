// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/count_in_words.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(CountInWords, IsSingularAfterAFigureThatReadsOne) {
  EXPECT_EQ(count_in_words("1", "cent"), "1 cent");
  EXPECT_EQ(count_in_words("+1", "cent"), "+1 cent");
  EXPECT_EQ(count_in_words("-1", "cent"), "-1 cent");
  EXPECT_EQ(count_in_words("± 1", "cent"), "± 1 cent");
  EXPECT_EQ(count_in_words(1, "hold"), "1 hold");
}

TEST(CountInWords, IsPluralAfterEveryOther) {
  EXPECT_EQ(count_in_words("0.4", "cent"), "0.4 cents");
  EXPECT_EQ(count_in_words("1.0", "cent"), "1.0 cents");
  EXPECT_EQ(count_in_words("11", "cent"), "11 cents");
  EXPECT_EQ(count_in_words("0", "cent"), "0 cents");
  EXPECT_EQ(count_in_words(0, "hold"), "0 holds");
  EXPECT_EQ(count_in_words(21, "hold"), "21 holds");
}

}  // namespace
}  // namespace windway
