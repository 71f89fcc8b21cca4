// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/recorded_cell.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(RecordedAt, IsReadAsIso8601) {
  for (const char* text :
       {"2026", "2026-11", "2026-11-25", "2026-11-25T09:30", "2026-11-25T09:30:15", "2026-11-25T09:30Z", "2024-02-29"})
    EXPECT_EQ(recorded_at_in(text), text);
}

TEST(RecordedAt, MayHaveABlankForTheTAndFractionsOfASecond) {
  EXPECT_EQ(recorded_at_in("2026-11-25 09:30"), "2026-11-25T09:30");
  EXPECT_EQ(recorded_at_in("2026-11-25T09:30:15.250Z"), "2026-11-25T09:30:15Z");
}

TEST(RecordedAt, WithAnOffsetComesInUtc) {
  EXPECT_EQ(recorded_at_in("2026-11-25T09:30+01:00"), "2026-11-25T08:30Z");
  EXPECT_EQ(recorded_at_in("2026-11-25T09:30:15-0530"), "2026-11-25T15:00:15Z");
  EXPECT_EQ(recorded_at_in("2026-01-01T00:30+01"), "2025-12-31T23:30Z");
  EXPECT_EQ(recorded_at_in("2024-02-28T23:00-02:00"), "2024-02-29T01:00Z");
}

TEST(RecordedAt, IsNothingElse) {
  for (const char* text : {"", "25.11.2026", "2026/11/25", "2026-11-25 in the morning", "2026-13-01", "2026-02-30",
                           "2026-11-25T25:00", "2026-11-25T09:61", "2026-11-25T09:30+15:00", "2026-11-25T09:30:61",
                           "2026-11-25T9:30", "yesterday", "20261", "2026-11-25T"})
    EXPECT_EQ(recorded_at_in(text), std::nullopt) << text;
  EXPECT_EQ(recorded_at_in("2026-11-25T09:30:15." + std::string(100000, '1')), std::nullopt);
}

TEST(RecordedBefore, NeedsToBeSure) {
  EXPECT_TRUE(is_recorded_before("2026-11-25", "2026-11-26T09:00"));
  EXPECT_FALSE(is_recorded_before("2026-11-25T09:00", "2026-11-25T09:00:30"));
  EXPECT_FALSE(is_recorded_before("2026-11-25T09:00:30", "2026-11-25T09:00"));
  EXPECT_TRUE(is_recorded_before("2025-12-31T23:59Z", "2026"));
  EXPECT_TRUE(is_recorded_before("2026-11-25T09:00Z", "2026-11-25T09:01"));
  EXPECT_FALSE(is_recorded_before("2026-11-25", "2026-11-25T09:00"));
  EXPECT_FALSE(is_recorded_before("2026-11-25T09:00", "2026-11-25"));
  EXPECT_FALSE(is_recorded_before("2026-11-25T09:00", "2026-11-25T09:00Z"));
  EXPECT_FALSE(is_recorded_before("2026-11-26", "2026-11-25"));
}

TEST(RecordedDay, HasItsWeekAndItsMonth) {
  EXPECT_EQ(day_of("2026-11-25T08:30Z"), "2026-11-25");
  EXPECT_EQ(day_of("2026-11"), "");
  EXPECT_EQ(monday_of("2026-11-25T08:30"), "2026-11-23");  // a Wednesday
  EXPECT_EQ(monday_of("2026-03-01"), "2026-02-23");        // a Sunday
  EXPECT_EQ(monday_of("2026-11-23"), "2026-11-23");
  EXPECT_EQ(month_of("2026-11-25"), "2026-11");
  EXPECT_EQ(month_of("2026"), "");
}

}  // namespace
}  // namespace windway
