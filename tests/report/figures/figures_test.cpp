// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "report/figures/bends_figure.hpp"
#include "report/figures/head_plot.hpp"
#include "report/figures/measurement_figures.hpp"
#include "report/figures/take_figure.hpp"
#include "report/figures/take_lines.hpp"
#include "report/measurement/invented_measurement.hpp"
#include "report/measurement/json.hpp"
#include "report/page/parsed_page.hpp"
#include "slide/moved_note.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using nlohmann::json;
using report_tests::invented_measurement;
using report_tests::ParsedPage;

/// An attribute in percent.
double percent_of(const pugi::xml_node& node, const char* name) { return std::stod(node.attribute(name).value()); }

/// The invented one, with the lengths and reaches that a compromise of its notes has.
Measurement consistent_measurement() {
  Measurement measurement = invented_measurement();
  const auto found = slide_notes(measurement.breath.notes, measurement.speed_of_sound_m_s);
  auto& notes = measurement.compromise->notes;
  notes = with_reaches(std::move(notes), found);
  for (std::size_t note = 0; note < notes.size(); ++note)
    notes[note].effective_length_mm = found[note].effective_length_mm;
  return measurement;
}

struct Figures : testing::Test {
  Measurement measurement = consistent_measurement();
  Pictured picture = *pictured(measurement);
  json figures = json::parse(json_report(measurement, "0"))["figures"];
};

TEST_F(Figures, AreNoneWhereTheHeadsPlaceIsInDeepDoubt) {
  measurement.warnings.push_back({WarningCode::scale_doubtful, "many notes do not fit"});
  EXPECT_FALSE(pictured(measurement));
  EXPECT_TRUE(json::parse(json_report(measurement, "0"))["figures"].is_null());
}

TEST_F(Figures, OfTheHeadHaveARowANoteAndTheEffortBelow) {
  const ParsedPage page(section_of(head_figure(picture)).text());
  EXPECT_EQ(page.all_words("//tbody//th"), (std::vector<std::string>{"D5", "F♯5", "A5", "B5", "effort"}));
  EXPECT_EQ(page.count("//tbody//line[@class='move']"), 5U);         // one line through all rows
  EXPECT_EQ(page.count("//path[@class='wedge assumed']"), 1U + 1U);  // B5, and the key
  EXPECT_TRUE(page.faults().empty());
}

/// Positions of marks against the numbers of the JSON: a second way from the measurement to the same place.
TEST_F(Figures, OfTheHeadDrawWhatTheJsonSays) {
  const ParsedPage page(section_of(head_figure(picture)).text());
  const auto wedges = page.all("//tbody//svg[@preserveAspectRatio][path[contains(@class, 'wedge')]]");
  const auto notches = page.all("//tbody//line[@class='notch']"), lines = page.all("//tbody//line[@class='move']"),
             was = page.all("//tbody//line[@class='was']");
  ASSERT_EQ(wedges.size(), figures.size());
  // Two points that are known fix the axis: where the head was (0 mm) and the best place.
  const double at_0 = percent_of(was[0].node(), "x1");
  const double per_mm = (percent_of(lines[0].node(), "x1") - at_0) / measurement.compromise->slide_mm;
  for (std::size_t note = 0; note < figures.size(); ++note) {
    const json& said = figures[note];
    const double from = percent_of(wedges[note].node(), "x"), width = percent_of(wedges[note].node(), "width");
    EXPECT_NEAR(from, at_0 + per_mm * said["true_soft_mm"].get<double>(), 0.05) << note;
    EXPECT_NEAR(from + width, at_0 + per_mm * said["true_hard_mm"].get<double>(), 0.05) << note;
    EXPECT_NEAR(percent_of(notches[note].node(), "x1"), at_0 + per_mm * said["true_moderate_mm"].get<double>(), 0.05);
  }
}

TEST_F(Figures, PlacesAreWhereTheLawOfTheSlideMakesTheNoteTrue) {
  for (const PicturedNote& note : picture.notes) {
    EXPECT_NEAR(residual_cents(note.found, note.true_mm.moderate_mm), 0, 1e-5);
    EXPECT_NEAR(residual_cents(note.found, note.true_mm.soft_mm), note.found.reach_soft_cents, 1e-5);
    EXPECT_NEAR(residual_cents(note.found, note.true_mm.hard_mm), -note.found.reach_hard_cents, 1e-5);
    EXPECT_LT(note.true_mm.soft_mm, note.true_mm.hard_mm);
  }
}

TEST_F(Figures, OfTheBreathMarkEachNoteByWhatItsWordSays) {
  const ParsedPage page(section_of(breath_figure(picture)).text());
  EXPECT_EQ(page.count("//tbody//tr[1]//circle[contains(@class, 'ring')]"), 1U);  // as it is
  EXPECT_EQ(page.count("//tbody//tr[2]//circle[contains(@class, 'dot')]"), 1U);   // harder
  EXPECT_EQ(page.count("//tbody//tr[4]//path[@class='cross']"), 1U);              // out of reach
  EXPECT_EQ(page.words("//tbody//tr[1]//td[@class='words']"), "as it is: 0.9 cents sharp");
  EXPECT_EQ(page.words("//tbody//tr[2]//td[@class='words']"), "harder, halfway to hard");
  EXPECT_EQ(page.words("//tbody//tr[4]//td[@class='words']"),
            "out of reach, even blown soft");  // by how much was not measured
}

TEST_F(Figures, SayWhatIsLeftOfANoteBeyondItsOwnReach) {
  MovedNote moved = measurement.compromise->notes[2];
  moved.cents = 20.0;
  moved.breath = BreathAdvice::out_of_reach;
  PicturedNote note = picture.notes[2];
  note.moved = &moved;
  EXPECT_EQ(blow_in_words(note), "out of reach, even blown soft; still 4.2 cents sharp");  // 20 less 15.84
}

TEST_F(Figures, OfAFixedHeadAreInCentsWithoutAnEffort) {
  measurement.settings.head.moves = false;
  measurement.compromise->slide_mm = 0;
  const Pictured fixed = *pictured(measurement);
  const ParsedPage page(section_of(head_figure(fixed)).text());
  EXPECT_EQ(page.count("//tbody/tr"), 4U);
  EXPECT_TRUE(has(page.words("//thead"), "cents from the target"));
  EXPECT_EQ(json::parse(json_report(measurement, "0"))["figures"][0]["true_soft_mm"], nullptr);
  EXPECT_TRUE(has(text_of(head_plot(fixed, 80)), "cents from the target"));
}

TEST_F(Figures, OfSeveralPlacesTellTheBestOneHoweverNearItIsToWhereTheNotesAreToldFor) {
  measurement.compromise->slide_mm = 0.02;
  EXPECT_FALSE(pictured(measurement)->is_told);
  EXPECT_TRUE(
      ParsedPage(section_of(holes_figure(*pictured(measurement))).text()).all("//tbody//line[@class='move']").empty());
  measurement.places.emplace();
  measurement.places->out_mm = {0, 2};
  measurement.places->at_mm = 1;
  EXPECT_TRUE(pictured(measurement)->is_told);
  EXPECT_FALSE(has(section_of(head_figure(*pictured(measurement))).text(), "cannot tell"));
}

TEST_F(Figures, OfANoteThatTheBreathDoesNotLowerBeginAtItsModeratePlace) {
  measurement.breath.notes[0].reach_soft_cents = 0;
  const TruePlaces places = pictured(measurement)->notes[0].true_mm;
  EXPECT_EQ(places.soft_mm, places.moderate_mm);
  EXPECT_LT(places.moderate_mm, places.hard_mm);
}

TEST_F(Figures, OfALimitCallTheLineAsNearAsTheHeadGoes) {
  measurement.compromise->limit = SlideLimit::travel;
  const std::string figure = section_of(head_figure(*pictured(measurement))).text();
  EXPECT_TRUE(has(figure, "as near to the best place as the head goes"));
  EXPECT_FALSE(has(figure, "least here"));
  const std::string plot = text_of(head_plot(*pictured(measurement), 200), 200);
  EXPECT_TRUE(has(plot, "! as near to the best place as the head goes"));
  EXPECT_FALSE(has(plot, "! best"));
}

TEST_F(Figures, OfHolesHaveTheLongestTubeOnTop) {
  const ParsedPage page(section_of(holes_figure(picture)).text());
  EXPECT_EQ(page.words("//tbody/tr[1]/th"), "D5");
  EXPECT_EQ(page.words("//tbody/tr[1]/td[@class='words']"), "5.9 cents a mm");
  // The line of the move is unbroken: each row begins where the one above ends.
  const auto lines = page.all("//tbody//line[@class='move']");
  ASSERT_EQ(lines.size(), 4U);
  for (std::size_t row = 1; row < lines.size(); ++row)
    EXPECT_STREQ(lines[row].node().attribute("x1").value(), lines[row - 1].node().attribute("x2").value()) << row;
}

TEST_F(Figures, OfTheBendHaveAMarkAHold) {
  const ParsedPage page(bends_section(measurement, picture).text());
  EXPECT_EQ(page.count("//li"), 3U);  // B5 has no hold of a known strength
  EXPECT_EQ(page.count("//circle"), 9U);
  EXPECT_TRUE(page.faults().empty());
}

TEST_F(Figures, OfTheTakeShowEachHoldAndSayWhatWasLeftOut) {
  const ParsedPage page(take_section(measurement).text());
  EXPECT_EQ(page.count("//line[@class='held'][not(ancestor::p)]"), measurement.naming.holds.size());
  EXPECT_EQ(page.count("//line[@class='steady'][not(ancestor::p)]"), 10U);
  EXPECT_TRUE(has(page.words("//section/p[1]"), "Left out: C6 at 10.5\u00A0s (not in this scale)"))
      << page.words("//section/p[1]");
  measurement.left_out = {{0, 1.4, 1.5, NotHeld::too_short}, {0, 2.4, 2.45, NotHeld::too_short}};
  const ParsedPage with_crosses(take_section(measurement).text());
  EXPECT_EQ(with_crosses.words("//section/p[3]"),
            "Heard, but not counted as a hold: 2 too short (at 1.4\u00A0s, 2.4\u00A0s).");
  EXPECT_EQ(json::parse(json_report(measurement, "0"))["left_out"][1]["why"], "too_short");
  measurement.naming.holds.clear();
  EXPECT_TRUE(take_section(measurement).empty());
}

Hold hold_between(double start_s, double end_s) {
  Hold hold;
  hold.start_s = start_s, hold.end_s = end_s;
  return hold;
}

TEST(TakeLines, BreakInThePauseNextToTheEvenCut) {
  std::vector<Hold> holds;
  for (int second = 0; second < 26; ++second) holds.push_back(hold_between(second, second + 0.8));
  std::vector<const Hold*> all;
  for (const Hold& hold : holds) all.push_back(&hold);
  const auto lines = take_lines(all, 8);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_NEAR(lines[0].end_s, 12.9, 1e-9);
  EXPECT_EQ(lines[1].start_s, lines[0].end_s);
  EXPECT_GT(lines[1].end_s, 25.8);
  EXPECT_EQ(take_lines(all, 1).size(), 1U);
  EXPECT_TRUE(take_lines({}, 8).empty());
  all.erase(all.begin() + 11, all.begin() + 13);         // no hold from 10.8 s to 13 s: the cut moves into that pause
  EXPECT_NEAR(take_lines(all, 8)[0].end_s, 11.2, 1e-9);  // 0.4 s after the last hold
  all.erase(all.begin() + 11, all.begin() + 15);         // a long silence ends a line by itself
  const auto broken = take_lines(all, 8);
  EXPECT_LT(broken[0].end_s, 12);
  EXPECT_GT(broken[1].start_s, 16);
}

TEST_F(Figures, InCharactersAreOneColumnOfTheBestPlace) {
  EXPECT_EQ(text_of(head_plot(picture, 80)),
            R"(  head moved, mm: < in tune if blown soft, | moderately, > hard; ! best; : now;
  .: how far the breath bends it was not measured
        -1                0               +1              +2               +3
  D5                      :         <----------!|--------->
  F#5  <---------------------------|-----------!------>
  A5                    <----------------------!------|------------------------>
  B5                      :               <....!................|............>
)");
  for (const std::size_t columns : {40U, 60U, 80U, 120U})
    EXPECT_TRUE(fits(text_of(head_plot(picture, columns), columns), columns)) << columns;
}

}  // namespace
}  // namespace windway
