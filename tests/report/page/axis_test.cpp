// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/axis.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(Axis, PutsValuesInPercentAndKeepsThemWithin) {
  const Axis axis{-2, 6};
  EXPECT_DOUBLE_EQ(axis.percent(-2), 0);
  EXPECT_DOUBLE_EQ(axis.percent(0), 25);
  EXPECT_DOUBLE_EQ(axis.percent(6), 100);
  EXPECT_DOUBLE_EQ(axis.percent(9), 100);
  EXPECT_DOUBLE_EQ(axis.percent(-3), 0);
  EXPECT_TRUE(axis.holds(6));
  EXPECT_FALSE(axis.holds(6.1));
}

TEST(Axis, IsOverAllValuesAndZeroWithRoomAtTheEnds) {
  const Axis axis = axis_over({3, 10}, 1);
  EXPECT_LT(axis.least, 0);
  EXPECT_GT(axis.least, -1);
  EXPECT_GT(axis.most, 10);
  const Axis narrow = axis_over({0.1}, 20);
  EXPECT_GE(narrow.most - narrow.least, 20);
}

TEST(Ticks, AreRoundAndNotTooMany) {
  EXPECT_EQ(ticks({-2.1, 4.2}, 7), (std::vector<double>{-2, -1, 0, 1, 2, 3, 4}));
  EXPECT_EQ(ticks({-12, 31}, 5), (std::vector<double>{-10, 0, 10, 20, 30}));
  for (const double width : {0.013, 0.4, 1.0, 3.3, 19.9, 700.0})
    for (const int most : {2, 3, 5, 7}) {
      const auto values = ticks({-width / 3, width}, most);
      EXPECT_LE(values.size(), static_cast<std::size_t>(most) + 1) << width;
      EXPECT_GE(values.size(), 1U) << width;
      for (const double value : values) EXPECT_TRUE((Axis{-width / 3, width}).holds(value));
    }
}

TEST(TickPlaces, AreThoseOfTheStep) {
  EXPECT_EQ(tick_places(20), 0);
  EXPECT_EQ(tick_places(1), 0);
  EXPECT_EQ(tick_places(0.5), 1);
  EXPECT_EQ(tick_places(0.02), 2);
}

TEST(TickLabel, HasASignAndThePlacesOfItsStep) {
  EXPECT_EQ(tick_label(-2, 1), "−2");
  EXPECT_EQ(tick_label(2, 1), "+2");
  EXPECT_EQ(tick_label(0, 1), "0");
  EXPECT_EQ(tick_label(0.5, 0.5), "+0.5");
  EXPECT_EQ(tick_label(-0.05, 0.05), "−0.05");
  EXPECT_EQ(tick_label(20, 20), "+20");
}

}  // namespace
}  // namespace windway
