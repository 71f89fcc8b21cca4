// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/read_picture.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using namespace figure_tests;

std::string day(int number) { return "2026-03-" + std::to_string(10 + number); }

void add_keeper(BenchTally& tally, const std::string& recorded_at, double cents) {
  auto keeper = made_up_entry("KEEP", {0.0}, recorded_at);
  keeper.home_a4_hz = hz_at_cents(440, cents);
  add(tally, keeper);
}

/// Ten instruments a day, the one of that number so many cents off; the keeper each morning.
BenchTally tally_of(int instruments, int stray, double stray_cents = -14) {
  BenchTally tally;
  tally.rules.keeper.emplace("KEEP");
  for (int i = 0; i < instruments; ++i) {
    auto entry =
        made_up_entry("HW-" + std::to_string(1000 + i), {1.0}, day(i / 10 % 20) + "T10:" + std::to_string(10 + i % 10));
    entry.home_a4_hz = hz_at_cents(440, i == stray ? stray_cents : (i * 7 % 5) - 2.0);
    add(tally, entry);
    if (i % 10 == 0) add_keeper(tally, day(i / 10 % 20) + "T08:00", 0.1 * (i / 10 % 3));
  }
  return tally;
}

TEST(ProductionFigure, PutsMarksAtTheirCentsFromTheMean) {
  const BenchTally tally = tally_of(100, 42);
  const BenchFindings findings = findings_of(tally);
  const auto figure = production_figure(tally, findings);
  ASSERT_TRUE(figure.has_value());
  ASSERT_EQ(figure->panels.size(), 2U);
  const Markup& picture = figure->panels[0].picture;
  constexpr double below_px = 4.5;  // the foot of a figure below its line
  const auto scale = figures_in(picture, "scale", "y");
  const auto crosses = places_of(picture, "//svg[path[@class='cross']]", "y");
  ASSERT_EQ(crosses.size(), 1U);
  const double cents = cents_between(findings.instruments->mean_home_a4_hz, hz_at_cents(440, -14));
  // The figures from the bottom up: the last two are the upper ones, of which the highest may be moved to fit.
  const std::vector<ScaleFigure> lower{scale[0], scale[1]};
  EXPECT_NEAR(value_at(crosses[0] + below_px, lower), cents, 0.2);
  EXPECT_EQ(places_of(picture, "//circle", "cx").size(), 99U);
  EXPECT_NE(picture.text().find("HW-1042"), std::string::npos);
  EXPECT_NE(figure->panels[1].title.find("KEEP"), std::string::npos);
  EXPECT_EQ(places_of(figure->panels[1].picture, "//circle", "cx").size(), 10U);
}

TEST(ProductionFigure, DrawsTheLastThreeHundred) {
  const BenchTally tally = tally_of(1000, -1);
  const auto figure = production_figure(tally, findings_of(tally));
  const Markup& picture = figure->panels[0].picture;
  EXPECT_EQ(places_of(picture, "//circle", "cx").size() + places_of(picture, "//path[@class='cross']", "d").size(),
            300U);
  EXPECT_NE(figure->panels[0].sentences[0].find("last 300 of 1000"), std::string::npos);
}

/// Instruments of so many days in a row, made alike from day to day.
BenchTally days_of(int days, const std::string& first_month, const std::string& last_month) {
  BenchTally tally;
  for (int i = 0; i < days; ++i) {
    auto entry =
        made_up_entry("A", {1.0}, (i < days / 2 ? first_month : last_month) + std::to_string(10 + i) + "T10:00");
    entry.home_a4_hz = 440 + 0.1 * (i % 3);
    add(tally, entry);
  }
  return tally;
}

/// The dates of the upper panel stand inside of a phone's 328 px and apart, in a font as wide as DejaVu Sans.
void expect_dates_inside_and_apart(const BenchTally& tally, std::size_t least_dates) {
  constexpr double phone_px = 328, percent_a_px = 100 / phone_px, character_px = 8.3;
  const auto document = parsed(production_figure(tally, findings_of(tally))->panels[0].picture);
  double free_from = 0;
  const auto dates = document.select_nodes("//text[@class='quiet']");
  EXPECT_GE(dates.size(), least_dates);
  for (const auto& found : dates) {
    const pugi::xml_node text = found.node();
    const std::string date = text.text().get(), anchor = text.attribute("text-anchor").value();
    const double width = character_px * percent_a_px * static_cast<double>(date.size());
    const double begin = text.attribute("x").as_double() - (anchor == "middle" ? width / 2
                                                            : anchor == "end"  ? width
                                                                               : 0);
    EXPECT_GE(begin, free_from) << date;
    free_from = begin + width;
    EXPECT_LE(free_from, 100) << date;
  }
}

TEST(ProductionFigure, KeepsDatesInsideAndApartOnAPhone) {
  expect_dates_inside_and_apart(tally_of(200, -1), 3);
  for (int days = 1; days < 40; ++days) {
    expect_dates_inside_and_apart(days_of(days, "2026-03-", "2026-04-"), 1);
    expect_dates_inside_and_apart(days_of(days, "2025-12-", "2026-01-"), 1);
  }
}

TEST(ProductionFigure, DrawsTheKeeperWhileTheInstrumentsDrawnWereRecorded) {
  BenchTally tally = tally_of(300, -1);
  add_keeper(tally, "2026-01-05T08:00", 0.1);
  const auto all = production_figure(tally, findings_of(tally));  // all instruments, so the keeper's earlier take too
  EXPECT_EQ(places_of(all->panels[1].picture, "//circle", "cx").size(), 31U);
  EXPECT_EQ(all->panels[1].sentences[0].find("The last"), std::string::npos);
  tally = tally_of(400, -1);
  add_keeper(tally, "2026-01-05T08:00", 0.1);
  const auto latest = production_figure(tally, findings_of(tally));
  const std::size_t drawn = places_of(latest->panels[1].picture, "//circle", "cx").size();
  EXPECT_LT(drawn, 41U);
  EXPECT_NE(latest->panels[1].sentences[0].find("The last " + std::to_string(drawn) + " of 41 takes are drawn."),
            std::string::npos)
      << latest->panels[1].sentences[0];
}

TEST(ProductionFigure, SaysHowManyTakesOfTheKeeperItHasRoomFor) {
  BenchTally tally;
  tally.rules.keeper.emplace("KEEP");
  for (int i = 0; i < 412; ++i) add_keeper(tally, day(i / 200) + "T08:00", 0.1 * (i % 3));
  const auto by_take = production_figure(tally, findings_of(tally));
  ASSERT_EQ(by_take->panels.size(), 1U);
  EXPECT_NE(by_take->panels[0].sentences[0].find("The last 300 of 412 takes are drawn."), std::string::npos);
  tally = {};
  tally.rules.keeper.emplace("KEEP");
  for (int i = 0; i < 480; ++i) add_keeper(tally, day(i / 24) + "T08:00", 0.1 * (i % 3));
  const auto by_day = production_figure(tally, findings_of(tally));
  EXPECT_NE(by_day->panels[0].sentences[0].find("The last 13 of 20 days are drawn."), std::string::npos)
      << by_day->panels[0].sentences[0];
}

TEST(ProductionFigure, SaysWhichKeeperItDoesNotDraw) {
  BenchTally tally = tally_of(400, -1);
  tally.rules.keeper.reset();  // each take says of itself
  auto old = made_up_entry("OLD", {0.0}, "2025-01-05T08:00");
  old.counting.keeper = true;
  old.home_a4_hz = 440;
  add(tally, old);
  const auto figure = production_figure(tally, findings_of(tally));
  ASSERT_EQ(figure->sentences.size(), 1U);
  EXPECT_EQ(figure->sentences[0], "No take of the keeper OLD is dated in the time that is drawn.");
}

TEST(ProductionFigure, KeepsAWildA4AtTheEdgeAndSaysSo) {
  const BenchTally tally = tally_of(100, 42, 900);
  const auto figure = production_figure(tally, findings_of(tally));
  const FigurePanel& panel = figure->panels[0];
  const auto crosses = places_of(panel.picture, "//svg[path[@class='cross']]", "y");
  ASSERT_EQ(crosses.size(), 1U);
  EXPECT_EQ(crosses[0], 0.0);  // the upper edge
  for (const ScaleFigure& each : figures_in(panel.picture, "scale", "y")) EXPECT_LT(each.value, 100);
  EXPECT_NE(panel.sentences.back().find("edge"), std::string::npos);
  const BenchTally tame = tally_of(100, -1);
  EXPECT_EQ(production_figure(tame, findings_of(tame))->panels[0].sentences.back(), "");
}

TEST(ProductionFigure, LabelsTheFirstDateWhereYearsAreShown) {
  BenchTally tally;
  for (int i = 0; i < 40; ++i) {
    auto entry = made_up_entry("A", {1.0}, (i < 20 ? "2025-12-" : "2026-01-") + std::to_string(10 + i % 20));
    entry.home_a4_hz = 440 + 0.1 * (i % 3);
    add(tally, entry);
  }
  const auto document = parsed(production_figure(tally, findings_of(tally))->panels[0].picture);
  const auto first = document.select_nodes("//text[@class='quiet']").first().node();
  EXPECT_STREQ(first.text().get(), "2025-12-10");
  EXPECT_STREQ(first.attribute("text-anchor").value(), "start");
  EXPECT_EQ(first.attribute("x").as_double(), 0.0);
}

TEST(ProductionFigure, SaysOfHowManyFlutesOfTheBenchItDrawsFour) {
  BenchTally tally;
  for (int i = 0; i < 6; ++i) {
    auto keeper = made_up_entry("KEEP-" + std::to_string(i), {1.0}, day(1));
    keeper.counting.keeper = true;
    keeper.home_a4_hz = 440;
    add(tally, keeper);
  }
  const auto figure = production_figure(tally, findings_of(tally));
  EXPECT_EQ(figure->panels.size(), 4U);
  ASSERT_EQ(figure->sentences.size(), 1U);
  EXPECT_EQ(figure->sentences[0], "Of 6 keepers, the first 4 are drawn.");
}

TEST(ProductionFigure, WithoutDatesHasNone) {
  BenchTally tally;
  for (int i = 0; i < 9; ++i) {
    auto entry = made_up_entry("A", {1.0});
    entry.home_a4_hz = 440 + 0.1 * i;
    add(tally, entry);
  }
  const auto figure = production_figure(tally, findings_of(tally));
  ASSERT_TRUE(figure.has_value());
  EXPECT_TRUE(parsed(figure->panels[0].picture).select_nodes("//text[@class='quiet']").empty());
}

TEST(ProductionFigure, IsAbsentWhereNoHomeA4IsKnown) {
  BenchTally tally;
  EXPECT_FALSE(production_figure(tally, findings_of(tally)));
  add(tally, made_up_entry("A", {1.0}));
  EXPECT_FALSE(production_figure(tally, findings_of(tally)));
}

}  // namespace
}  // namespace windway
