// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/sheet_page.hpp"

#include <gtest/gtest.h>

#include <string>

#include "error.hpp"
#include "report/measurement/advice.hpp"
#include "report/measurement/invented_measurement.hpp"
#include "report/page/parsed_page.hpp"
#include "report/page/typography.hpp"
#include "report/pages/sheet_parts.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using report_tests::invented_measurement;
using report_tests::ParsedPage;
using report_tests::with_notes;

constexpr double out_mm = 3.5, slide_mm = 1.24;

/// The invented whistle, its head 3.5 mm out of 9 while recording.
Measurement whistle() {
  Measurement measurement = invented_measurement();
  measurement.settings.head.out_mm = out_mm;
  measurement.settings.head.travel_mm = 9;
  measurement.compromise->highest_a4_hz = 447.3;
  measurement.compromise->lowest_a4_hz = 433.1;
  measurement.naming.instrument.maker = Maker{"Hesper Wrackle", {"3 Osier Lane", "Quillhaven"}, "Wrackle whistle in D"};
  return measurement;
}

EntryJudged judged_note(VerdictResult result, const std::string& message = "") {
  return {{.criterion = Criterion::note, .result = result, .note = NoteId{74}, .value = 1.0, .upper = 12.0}, message};
}

SheetFacts passing(const std::string& serial = "HW-1002") {
  SheetFacts facts;
  facts.subject.serial = serial;
  facts.subject.material = "boxwood";
  facts.subject.recorded_at = "2026-03-02T09:30";
  facts.result = VerdictResult::pass;
  facts.judged = {judged_note(VerdictResult::pass)};
  return facts;
}

ParsedPage sheet_of(const Measurement& measurement, const SheetFacts& facts = passing()) {
  return ParsedPage(sheet_page(measurement, facts, "0.1.0"));
}

double mm_of(const pugi::xml_node& shape, const char* name) {
  const std::string value = shape.attribute(name).value();
  EXPECT_TRUE(value.ends_with("mm")) << value;
  return std::stod(value);
}

TEST(SheetPage, SaysWhatTheBuyerNeeds) {
  const ParsedPage page = sheet_of(whistle());
  EXPECT_TRUE(page.faults().empty()) << page.faults().front();
  EXPECT_EQ(page.words("//h1"), "HW-1002");
  EXPECT_EQ(page.words("//p[@class='above']"), "Wrackle whistle in D");
  EXPECT_TRUE(has(page.words("//main/p[1]"), "It passed: 1 note within 12 cents. Recorded on 2026-03-02; "));
  EXPECT_TRUE(has(page.words("//main/p[1]"), "boxwood."));
  EXPECT_EQ(page.words("//p[@class='big']"), "4.7\u00A0mm out (±\u00A00.1\u00A0mm)");
  EXPECT_TRUE(has(page.words("//section[h2/@id='head']"), typeset(check_line(whistle()))));
  EXPECT_TRUE(has(page.words("//section[h2/@id='hands']"), "farthest off"));
  EXPECT_EQ(page.count("//table[@aria-labelledby='breath']/tbody/tr"), 4U);
  EXPECT_EQ(page.words("//address"), "Hesper Wrackle · 3 Osier Lane · Quillhaven");
  EXPECT_TRUE(has(page.words("//footer"), "windway 0.1.0 · recording 00ff · air in the flute taken as 25"));
}

TEST(SheetPage, TellsTheA4AtBothEndsAndHere) {
  const ParsedPage page = sheet_of(whistle());
  EXPECT_EQ(page.all_words("//section[h2/@id='others']/dl/dt"),
            (std::vector<std::string>{"fully in", "4.7\u00A0mm out", "9\u00A0mm out, as far as it goes"}));
  EXPECT_EQ(page.all_words("//section[h2/@id='others']/dl/dd"),
            (std::vector<std::string>{"A4 = 447.3\u00A0Hz", "A4 = 440\u00A0Hz", "A4 = 433.1\u00A0Hz"}));
  EXPECT_EQ(page.count("//section[h2/@id='others']//tbody/tr"), 4U);  // the card: 438, 440, 442, 444 Hz
  EXPECT_EQ(page.words("//section[h2/@id='others']//tbody/tr[2]/th"), "440\u00A0Hz");
  const std::string remarks =
      page.words("//section[h2/@id='others']");  // how sure the card is, as windway card says it
  EXPECT_TRUE(has(remarks, "sure to ±\u00A0")) << remarks;
  EXPECT_TRUE(has(remarks, "For each degree that the bore is warmer")) << remarks;
}

TEST(SheetPage, DrawsTheGapAsWideAsTheHeadIsOut) {
  const ParsedPage page = sheet_of(whistle());
  const auto tubes = page.all("//rect[@class='tube']");
  ASSERT_EQ(tubes.size(), 2U);
  const pugi::xml_node head = tubes[0].node(), body = tubes[1].node();
  const double gap_mm = mm_of(body, "x") - mm_of(head, "x") - mm_of(head, "width");
  EXPECT_NEAR(gap_mm, out_mm + slide_mm, 0.005);
  EXPECT_NEAR(mm_of(page.all("//rect[@class='tenon']")[0].node(), "width"), out_mm + slide_mm, 0.005);
  const pugi::xml_node line = page.all("//line[@class='ruler']")[0].node();
  EXPECT_NEAR(mm_of(line, "x2") - mm_of(line, "x1"), 50.0, 1e-9);
}

TEST(SheetPage, DrawsNoGapThatIsNoneOrHasNoRoom) {
  EXPECT_TRUE(gap_markup(41).empty());
  Measurement measurement = whistle();
  measurement.settings.head.out_mm = 0;
  measurement.compromise->slide_mm = 0;
  measurement.compromise->limit = SlideLimit::fully_in;
  const ParsedPage page = sheet_of(measurement);
  EXPECT_EQ(page.count("//figure"), 0U);
  EXPECT_EQ(page.words("//p[@class='big']"), "fully in");
  EXPECT_TRUE(has(page.words("//section[h2/@id='head']"), "The scale is still 4.0 cents sharp on average."));
}

TEST(SheetPage, NeverClaimsMoreThanTheVerdict) {
  SheetFacts facts = passing();
  facts.result.reset();
  EXPECT_TRUE(has(sheet_of(whistle(), facts).words("//main/p[1]"), "It was not judged. Recorded"));
  facts.result = VerdictResult::pass;
  facts.judged.clear();
  EXPECT_TRUE(has(sheet_of(whistle(), facts).words("//main/p[1]"), "It passed; the limits were not noted."));
  facts.result = VerdictResult::fail;
  facts.judged = {judged_note(VerdictResult::pass),
                  judged_note(VerdictResult::fail, "D5 is 30 cents sharp; tolerance 8")};
  EXPECT_TRUE(
      has(sheet_of(whistle(), facts).words("//main/p[1]"), "It failed: D5 is 30 cents sharp; tolerance 8. Recorded"));
  facts.result = VerdictResult::too_close;
  EXPECT_TRUE(has(sheet_of(whistle(), facts).words("//main/p[1]"), "too close to call"));
  facts.result = VerdictResult::not_measured;
  EXPECT_TRUE(has(sheet_of(whistle(), facts).words("//main/p[1]"), "It could not be judged in full"));
  for (const VerdictResult result : {VerdictResult::fail, VerdictResult::too_close, VerdictResult::not_measured}) {
    facts.result = result;
    EXPECT_FALSE(has(sheet_of(whistle(), facts).words("//main"), "Kept"));
  }
}

TEST(SheetPage, CountsFurtherReasons) {
  SheetFacts facts = passing();
  facts.result = VerdictResult::fail;
  facts.judged.assign(5, judged_note(VerdictResult::fail, "D5 is sharp"));
  EXPECT_TRUE(has(sheet_of(whistle(), facts).words("//main/p[1]"), "D5 is sharp; and 2 more."));
}

TEST(SheetPage, OfAFixedHeadTellsItsA4AndNoPlace) {
  Measurement measurement = whistle();
  measurement.settings.head = {.moves = false, .out_mm = {}, .travel_mm = {}};
  measurement.compromise->limit = SlideLimit::fixed_head;
  measurement.compromise->highest_a4_hz.reset();
  measurement.compromise->lowest_a4_hz.reset();
  const ParsedPage page = sheet_of(measurement);
  EXPECT_TRUE(page.faults().empty());
  EXPECT_EQ(page.count("//h2[@id='head']"), 0U);
  EXPECT_EQ(page.count("//figure"), 0U);
  EXPECT_TRUE(has(page.words("//section[h2/@id='others']"), "at home at A4 = 442.0"));
  EXPECT_FALSE(has(page.words("//main"), "with the head set as above"));
  EXPECT_EQ(lacking_on_sheet(measurement), "");
}

TEST(SheetPage, WithoutThePlaceOfTheHeadGivesTheMoveAlone) {
  Measurement measurement = whistle();
  measurement.settings.head.out_mm.reset();
  measurement.compromise->highest_a4_hz.reset();
  measurement.compromise->lowest_a4_hz.reset();
  const ParsedPage page = sheet_of(measurement);
  EXPECT_EQ(page.count("//figure"), 0U);
  EXPECT_TRUE(has(page.words("//section[h2/@id='head']"), "It belongs 1.2\u00A0mm farther out than it was then"));
  EXPECT_TRUE(has(page.words("//section[h2/@id='head']"), "The maker did not note where the head was"));
  measurement.compromise->slide_mm = 0.01;
  EXPECT_TRUE(has(sheet_of(measurement).words("//section[h2/@id='head']"), "it belongs where it was then (±"));
  EXPECT_FALSE(has(sheet_of(measurement).words("//main"), "its best place is where it is"));
  EXPECT_EQ(page.count("//section[h2/@id='others']//table"), 0U);
  EXPECT_TRUE(has(lacking_on_sheet(measurement), "--head-out"));
  EXPECT_EQ(lacking_on_sheet(whistle()), "");
}

TEST(SheetPage, WithoutTheTravelSaysThatAPlaceMayBeTooFarOut) {
  Measurement measurement = whistle();
  const std::string not_known = "How far out the head goes is not known, so a place here may be farther out than that.";
  EXPECT_FALSE(has(sheet_of(measurement).words("//section[h2/@id='others']"), not_known));
  measurement.settings.head.travel_mm.reset();
  measurement.compromise->lowest_a4_hz.reset();
  EXPECT_TRUE(has(sheet_of(measurement).words("//section[h2/@id='others']"), not_known));
}

TEST(SheetPage, IsKnownAsASheet) {
  EXPECT_TRUE(is_sheet_page(sheet_page(whistle(), passing(), "0.1.0")));
  EXPECT_FALSE(is_sheet_page("<html><main>mine</main></html>"));
  EXPECT_FALSE(is_sheet_page(""));
}

TEST(SheetPage, WithoutReachSaysWhatWasNotMeasured) {
  Measurement measurement = whistle();
  for (NoteBreath& note : measurement.breath.notes) {
    note.reach_soft_cents.reset(), note.reach_hard_cents.reset();
    note.spread.reset();
  }
  const ParsedPage page = sheet_of(measurement);
  EXPECT_EQ(page.count("//h2[@id='breath']"), 0U);
  EXPECT_TRUE(has(page.words("//section[h2/@id='hands']"), "was not measured"));
  EXPECT_FALSE(has(page.words("//section[h2/@id='hands']"), "steadiest"));
}

TEST(SheetPage, OfMoreThanTwentyNotesHasTwoColumns) {
  Measurement measurement = whistle();
  for (int copy = 0; copy < 5; ++copy) {  // 24 notes
    for (std::size_t note = 0; note < 4; ++note) {
      measurement.breath.notes.push_back(measurement.breath.notes[note]);
      measurement.compromise->notes.push_back(measurement.compromise->notes[note]);
    }
    const ParsedPage page = sheet_of(measurement);
    EXPECT_TRUE(page.faults().empty());
    const bool is_many = measurement.breath.notes.size() > 20;
    EXPECT_EQ(page.count("//table[@aria-labelledby='breath']"), is_many ? 2U : 1U) << copy;
    EXPECT_EQ(page.count("//table[@aria-labelledby='breath']/tbody/tr"), measurement.breath.notes.size());
  }
}

TEST(SheetPage, KeepsEveryTextAText) {
  Measurement measurement = whistle();
  measurement.naming.instrument.maker = Maker{"<b>&", {"\"</address>"}, "<script>alert(2)</script>"};
  SheetFacts facts = passing("<script>alert(1)</script>");
  facts.subject.material = "<img src=x>";
  const ParsedPage page = sheet_of(measurement, facts);
  EXPECT_TRUE(page.faults().empty()) << page.faults().front();
  EXPECT_EQ(page.words("//h1"), "<script>alert(1)</script>");
  EXPECT_EQ(page.words("//p[@class='above']"), "<script>alert(2)</script>");
  EXPECT_EQ(page.count("//script") + page.count("//img") + page.count("//b"), 0U);
  EXPECT_EQ(page.words("//address"), "<b>& · \"</address>");
}

TEST(SheetPage, WithoutSerialAndMakerIsHeadedByTheInstrument) {
  Measurement measurement = whistle();
  measurement.naming.instrument.maker.reset();
  const ParsedPage page = sheet_of(measurement, {});
  EXPECT_EQ(page.words("//h1"), "Whistle in D from D5");
  EXPECT_EQ(page.count("//address"), 0U);
  EXPECT_TRUE(has(page.words("//main/p[1]"), "The day of the recording was not noted."));
}

TEST(SheetPage, IsNotMadeOfADoubtfulMeasurement) {
  Measurement doubtful = whistle();
  doubtful.warnings.push_back({WarningCode::scale_doubtful, "many of these notes do not fit a whistle"});
  EXPECT_EQ(why_no_sheet(doubtful), "many of these notes do not fit a whistle");
  EXPECT_THROW(sheet_page(doubtful, passing(), "0.1.0"), Error);
  const Measurement one_note = with_notes(whistle(), {0});
  EXPECT_TRUE(has(why_no_sheet(one_note), "its scale was not measured"));
  EXPECT_THROW(sheet_page(one_note, passing(), "0.1.0"), Error);
  EXPECT_EQ(why_no_sheet(whistle()), "");
}

}  // namespace
}  // namespace windway
