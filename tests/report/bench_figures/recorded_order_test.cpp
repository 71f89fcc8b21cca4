// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/recorded_order.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

Produced made_on(const std::string& recorded_at) { return {"", recorded_at, {}, std::nullopt}; }

TEST(RecordedOrder, PutsOneDayAtOnePlace) {
  const Produced a = made_on("2026-03-01T10:00"), b = made_on("2026-03-01T11:00"), c = made_on("2026-03-02T10:00");
  const Produced keeper_1 = made_on("2026-03-01"), keeper_2 = made_on("2026-03-02T20:00");
  const RecordedOrder order({{&a, &b, &c}, {&keeper_1, &keeper_2}});
  ASSERT_TRUE(order.is_by_day());
  ASSERT_EQ(order.days().size(), 2U);
  const double second_day = order.days()[1].share;
  EXPECT_NEAR(second_day, (2.0 / 3.0) / (2.0 / 3.0 + 1.0 / 2.0), 1e-9);  // the greatest shares of the days
  EXPECT_LT(order.share(&a), order.share(&b));
  EXPECT_LT(order.share(&b), second_day);
  EXPECT_LT(order.share(&keeper_1), second_day);
  EXPECT_GT(order.share(&c), second_day);
  EXPECT_DOUBLE_EQ(order.share(&keeper_2), order.share(&c));
}

TEST(RecordedOrder, FillsTheWidthWithEachSeriesWhereADayIsUnknown) {
  const Produced a = made_on("2026"), b = made_on("2026-03-01"), keeper = made_on("");
  const RecordedOrder order({{&a, &b}, {&keeper}});
  EXPECT_FALSE(order.is_by_day());
  EXPECT_DOUBLE_EQ(order.share(&a), 0.25);
  EXPECT_DOUBLE_EQ(order.share(&b), 0.75);
  EXPECT_DOUBLE_EQ(order.share(&keeper), 0.5);
}

}  // namespace
}  // namespace windway
