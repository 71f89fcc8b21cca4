// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/marks.hpp"

#include <gtest/gtest.h>

#include "report/page/parsed_page.hpp"

namespace windway {
namespace {

using report_tests::ParsedPage;

constexpr Axis tenth{0, 10};

std::string attribute(const Markup& markup, const std::string& path, const char* name) {
  return ParsedPage(element("svg", {}, markup).text()).all(path).first().node().attribute(name).value();
}

TEST(Wedge, GoesFromSoftToHardAndIsThickWhereHard) {
  const Markup drawn = wedge(tenth, 2, 7, 24, {});
  EXPECT_EQ(attribute(drawn, "/svg/svg", "x"), "20%");
  EXPECT_EQ(attribute(drawn, "/svg/svg", "width"), "50%");
  EXPECT_EQ(attribute(drawn, "//path", "d"), "M0 10.5L100 5L100 19L0 13.5Z");
  EXPECT_EQ(attribute(drawn, "//path", "class"), "wedge");
}

TEST(Wedge, OfANoteThatFallsWhenBlownHarderIsThickAtTheLeft) {
  EXPECT_EQ(attribute(wedge(tenth, 7, 2, 24, {}), "//path", "d"), "M0 5L100 10.5L100 13.5L0 19Z");
}

TEST(Wedge, TellsRegisterAndDoubtByItsClass) {
  EXPECT_EQ(attribute(wedge(tenth, 2, 7, 24, {true, true}), "//path", "class"), "wedge hollow assumed");
}

TEST(Spindle, IsThickestAtItsMiddle) {
  const Markup drawn = spindle(tenth, 2, 4, 6, 24, {});
  EXPECT_EQ(attribute(drawn, "//path", "d"), "M0 12L50 5L100 12L50 19Z");
}

TEST(Band, OfNothingIsNothing) {
  EXPECT_TRUE(band(tenth, 3, 3, 24, "band").empty());
  EXPECT_TRUE(band(tenth, 11, 12, 24, "beyond").empty());
  EXPECT_EQ(attribute(band(tenth, 8, 12, 24, "beyond"), "//rect", "width"), "20%");
}

TEST(Marks, StandWhereTheirValuesAre) {
  EXPECT_EQ(attribute(upright(tenth, 2.5, 24, "move"), "//line", "x1"), "25%");
  EXPECT_EQ(attribute(notch(tenth, 2.5, 24), "//line", "x2"), "25%");
  EXPECT_EQ(attribute(dot(30, 12), "//circle", "cx"), "30%");
  EXPECT_EQ(attribute(ring(30, 12), "//circle", "class"), "ring move");
  EXPECT_EQ(attribute(cross(30, 12), "/svg/svg", "x"), "30%");
  EXPECT_EQ(attribute(slanting(tenth, 1, 2, 24, "move"), "//line", "x2"), "20%");
  EXPECT_EQ(attribute(level(5, "held", 20, 70), "//line", "x1"), "20%");
  EXPECT_EQ(attribute(level(5, "held", 20, 70), "//line", "x2"), "70%");
  EXPECT_EQ(attribute(level(5, "zero"), "//line", "x2"), "100%");
}

TEST(PathThrough, GoesFromPlaceToPlace) {
  EXPECT_EQ(path_through({{0, 1}, {50, 2.5}, {100, 0}}), "M0 1L50 2.5L100 0");
  EXPECT_EQ(path_through({}), "");
}

TEST(Label, IsTypeset) { EXPECT_EQ(ParsedPage(label(0, 10, "-5 of F#5", "start").text()).words("/text"), "−5 of F♯5"); }

}  // namespace
}  // namespace windway
