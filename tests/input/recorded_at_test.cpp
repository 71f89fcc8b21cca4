// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/recorded_at.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(Iso8601, ReadsTheDatesThatSoundFilesCarry) {
  EXPECT_EQ(iso_8601("2024"), "2024");
  EXPECT_EQ(iso_8601("2024-05"), "2024-05");
  EXPECT_EQ(iso_8601("2024-05-01"), "2024-05-01");
  EXPECT_EQ(iso_8601("2024:05:01 12:30:45"), "2024-05-01T12:30:45");
  EXPECT_EQ(iso_8601("2024-05-01T12:30Z"), "2024-05-01T12:30Z");
  EXPECT_EQ(iso_8601("2024/05/01T12-30-45.123"), "2024-05-01T12:30:45");
}

TEST(Iso8601, KeepsTheDateWhereTheTimeIsNone) {
  EXPECT_EQ(iso_8601("2024-05-01 25:00:00"), "2024-05-01");
  EXPECT_EQ(iso_8601("2024-05-01T"), "2024-05-01");
  EXPECT_EQ(iso_8601("2024-05-01 noon"), "2024-05-01");
}

TEST(Iso8601, IsEmptyForWhatIsNoDate) {
  for (const char* text : {"", "May 2024", "0000-00-00", "0001-01-01", "2024-13-01", "2023-02-29", "20", "\xff\xff"}) {
    EXPECT_FALSE(iso_8601(text)) << text;
  }
}

}  // namespace
}  // namespace windway
