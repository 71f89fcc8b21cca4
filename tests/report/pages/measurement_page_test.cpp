// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/measurement_page.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "report/measurement/advice.hpp"
#include "report/measurement/invented_measurement.hpp"
#include "report/page/parsed_page.hpp"
#include "report/page/typography.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using report_tests::invented_measurement;
using report_tests::ParsedPage;
using report_tests::with_notes;

const PageSource source{"0.1.0", "windway measure 'a b.wav'"};

TEST(MeasurementPage, BeginsWithWhatToDo) {
  const ParsedPage page(measurement_page(invented_measurement(), source));
  EXPECT_TRUE(page.faults().empty()) << page.faults().front();
  EXPECT_EQ(page.words("//h1"), "Draw the head out 1.2\u00A0mm (±\u00A00.1)");
  EXPECT_EQ(page.words("//p[@class='above']"), "Whistle in D from D5");
  EXPECT_TRUE(has(page.words("//main/p[1]"), "The whole scale comes down 7.9 cents"));
}

TEST(MeasurementPage, SaysEveryLineOfTheAdviceAndEveryDoubtOfTheText) {
  const Measurement measurement = invented_measurement();
  const std::string words = ParsedPage(measurement_page(measurement, source)).words("//main");
  const std::vector<std::string> lines = advice(measurement);
  for (auto line = lines.begin() + 1; line != lines.end(); ++line) EXPECT_TRUE(has(words, typeset(*line))) << *line;
  EXPECT_TRUE(has(words, "B5 was blown at one strength only"));
}

TEST(MeasurementPage, SaysThatTheFiguresTellHowToBlowEachNote) {
  Measurement measurement = invented_measurement();
  measurement.compromise->limit = SlideLimit::travel;
  const std::string words = ParsedPage(measurement_page(measurement, source)).words("//main");
  EXPECT_TRUE(has(words, "Blow softer on A5 and harder on F♯5, as the figures below say."));
  EXPECT_FALSE(has(words, "as the table says"));
}

TEST(MeasurementPage, HasEachFigureOnce) {
  const ParsedPage page(measurement_page(invented_measurement(), source));
  for (const char* id : {"doubts", "head", "breath", "holes", "bends", "take", "figures", "remarks", "basis"})
    EXPECT_EQ(page.count(std::string("//section/h2[@id='") + id + "']"), 1U) << id;
  EXPECT_EQ(page.count("//*[@id='hatch']"), 1U);
}

TEST(MeasurementPage, LeavesOutHowHardToBlowWhereNoReachWasMeasured) {
  Measurement measurement = invented_measurement();
  for (NoteBreath& note : measurement.breath.notes) note.reach_soft_cents.reset(), note.reach_hard_cents.reset();
  const ParsedPage page(measurement_page(measurement, source));
  EXPECT_EQ(page.count("//h2[@id='breath']"), 0U);
  EXPECT_EQ(page.count("//h2[@id='head']"), 1U);
  EXPECT_EQ(page.count("//table[@aria-labelledby='head']//path[@class='wedge']"), 0U);
}

TEST(MeasurementPage, OfADeepDoubtAsksTheQuestionAndDrawsNoMove) {
  Measurement measurement = invented_measurement();
  measurement.warnings.push_back(
      {WarningCode::scale_doubtful, "many of these notes do not fit a whistle; what is it?"});
  const ParsedPage page(measurement_page(measurement, source));
  EXPECT_TRUE(has(page.words("//header") + page.words("//main/p[1]"), "Many of these notes do not fit a whistle"));
  for (const char* id : {"head", "breath", "holes"})
    EXPECT_EQ(page.count(std::string("//h2[@id='") + id + "']"), 0U) << id;
}

TEST(MeasurementPage, OfOneNoteAndOfNoneIsWellFormed) {
  for (const std::vector<std::size_t>& kept : {std::vector<std::size_t>{0}, {}}) {
    const ParsedPage page(measurement_page(with_notes(invented_measurement(), kept), source));
    EXPECT_TRUE(page.faults().empty());
    EXPECT_FALSE(page.words("//h1").empty());
  }
}

TEST(MeasurementPage, KeepsAHostileNameAsText) {
  Measurement measurement = invented_measurement();
  const std::string name = "<script>alert('x')</script>&\"\x1b[2J.wav";
  measurement.takes.front().path = name;
  measurement.naming.instrument.name = "<b>\"x\"</b>";
  const std::string text = measurement_page(measurement, {"0.1.0", "windway measure " + name});
  const ParsedPage page(text);
  EXPECT_TRUE(page.faults().empty());
  EXPECT_FALSE(has(text, "<script"));
  EXPECT_FALSE(has(text, "\x1b"));
  EXPECT_TRUE(has(page.words("//dl"), "<script>alert('x')</script>&\""));
}

TEST(MeasurementPage, IsTheSameBytesForTheSameMeasurement) {
  EXPECT_EQ(measurement_page(invented_measurement(), source), measurement_page(invented_measurement(), source));
}

TEST(MeasurementPage, SaysWhatItRestsOnAndHowToMakeItAgain) {
  const ParsedPage page(measurement_page(invented_measurement(), source));
  EXPECT_EQ(page.words("//dl//code"), "windway measure 'a b.wav'");
  EXPECT_TRUE(has(page.words("//dl"), "00ff"));
  EXPECT_TRUE(has(page.words("//dl"), "A4 = 440"));
}

TEST(MeasurementSvg, IsAWholePictureAlone) {
  for (const std::string& figure : measurement_figures()) {
    const std::string text = measurement_svg(invented_measurement(), figure);
    const ParsedPage picture(text);
    EXPECT_TRUE(picture.faults().empty()) << figure;
    EXPECT_EQ(picture.count("/svg[@width='760'][title]"), 1U) << figure;
    EXPECT_TRUE(has(picture.words("/svg"), "F♯5")) << figure;
    EXPECT_LT(text.size(), 20000U);
  }
  EXPECT_EQ(measurement_svg(invented_measurement(), ""), measurement_svg(invented_measurement(), "head"));
}

TEST(MeasurementSvg, IsRefusedWhereThereIsNothingToDraw) {
  EXPECT_THROW(measurement_svg(with_notes(invented_measurement(), {0}), "head"), Error);
}

}  // namespace
}  // namespace windway
