// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/card_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "card/even_flute.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using Json = nlohmann::json;
using test::even_flute;

std::string text_of(const Measurement& measurement) { return text_of(card_prose(head_card(measurement), measurement)); }

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

const Head known_head_place{true, 0.5, 2.0, {}};

TEST(CardText, FitsEightyColumns) {
  Measurement long_names = even_flute(10, known_head_place);
  long_names.naming.instrument.name = "HW-0412, ash, second of the lot that was turned in the spring, with a new head";
  for (const Measurement& measurement : {even_flute(10), even_flute(55), long_names})
    for (const std::string& line : lines_of(text_of(measurement))) EXPECT_LE(display_width(line), 80U) << line;
}

TEST(CardText, GivesPlacesWhereTheHeadStoodIsKnown) {
  const Measurement measurement = even_flute(10, known_head_place);
  const std::string text = text_of(measurement);
  EXPECT_TRUE(has(text, "figures: mm from fully in")) << text;
  const HeadCard card = head_card(measurement);
  const double out_mm = *card.rows[2].cells[3].head_out_mm;  // 440 Hz, 22 degrees C
  std::istringstream row(lines_of(text)[5]);
  std::string a4, hz, at_15, at_18, at_20, at_22;
  row >> a4 >> hz >> at_15 >> at_18 >> at_20 >> at_22;
  EXPECT_EQ(a4 + hz, "440Hz") << text;
  ASSERT_TRUE(is_reached(card.rows[2].cells[3])) << text;
  EXPECT_NEAR(std::stod(at_22), out_mm, 0.05) << text;
}

TEST(CardText, MarksWhatCannotBeReachedAndSaysWhatTheMarkMeans) {
  const std::string text = text_of(even_flute(10, known_head_place));
  EXPECT_TRUE(has(text, " in ")) << text;
  EXPECT_TRUE(has(text, " end")) << text;
  EXPECT_TRUE(
      has(unwrapped(text), "in: the head would have to go farther in than it can; set it fully in and blow harder"));
  EXPECT_TRUE(has(unwrapped(text), "end: the head would have to come farther out than it can"));
  EXPECT_FALSE(has(text, "?:"));
  EXPECT_TRUE(has(text_of(even_flute(55)), "?: the flute is too far from that A4"));
}

TEST(CardText, GivesMovesAndSaysSoWhereItIsNotKnown) {
  const std::string text = unwrapped(text_of(even_flute(10)));
  EXPECT_TRUE(has(text, "mm to move the head from where it was at the take, + out, - in")) << text;
  EXPECT_TRUE(has(text, "Where the head was is not known")) << text;
  EXPECT_TRUE(has(text, "How far out the head goes is not known")) << text;
  EXPECT_FALSE(has(unwrapped(text_of(even_flute(10, known_head_place))), "not known"));
}

TEST(CardText, SaysTheCheckNoteOnce) {
  const std::string text = unwrapped(text_of(even_flute(30)));
  EXPECT_TRUE(has(text, "Set it by F#5. Blown moderately, and measured against the A4 of the row, it should be"))
      << text;
}

TEST(CardText, SaysWhatTheCheckNoteShouldReadAtBothEndsOfTheTable) {
  const Measurement measurement = even_flute(30);
  HeadCard card = head_card(measurement);
  for (CardRow& row : card.rows)
    for (CardCell& cell : row.cells) cell.check = CentsEstimate{*cell.slide_mm - 2.0, 0.2};
  double least_mm = 100, most_mm = -100;
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells) {
      least_mm = std::min(least_mm, *cell.slide_mm);
      most_mm = std::max(most_mm, *cell.slide_mm);
    }
  const auto reading = [](double slide_mm) {
    return deviation_in_words(slide_mm - 2.0, 0.2) + " at " + signed_fixed(slide_mm, 1) + " mm";
  };
  const std::string text = unwrapped(text_of(card_prose(card, measurement)));
  EXPECT_TRUE(
      has(text, "it should be " + reading(least_mm) + " and " + reading(most_mm) + ", and in proportion between."))
      << text;
  for (CardRow& row : card.rows)
    for (CardCell& cell : row.cells) cell.check->cents = 1.2;
  EXPECT_TRUE(has(unwrapped(text_of(card_prose(card, measurement))), "it should be 1.2 cents sharp."));
  Measurement meant = measurement;
  for (ScaleNote& note : meant.naming.instrument.scale) note.target_cents = -8.0;
  EXPECT_TRUE(has(unwrapped(text_of(card_prose(card, meant))),
                  "it should be 6.8 cents flat (its target is 8.0 cents flat of the temperament)."));
}

TEST(CardText, SaysWhatItRestsOn) {
  Measurement measurement = even_flute(10, known_head_place);
  measurement.takes[0].recorded_at = "2026-03-01";
  const std::string text = unwrapped(text_of(measurement));
  EXPECT_TRUE(has(text,
                  "Measured from scale.wav (recorded 2026-03-01), the bore taken as 25 °C, the head 0.5 mm out; "
                  "equal temperament."))
      << text;
  measurement.takes[0].path = "-";
  EXPECT_TRUE(has(unwrapped(text_of(measurement)), "Measured from standard input (recorded"));
  EXPECT_TRUE(has(text, "Each figure is sure to ± 0.1 mm")) << text;
  EXPECT_TRUE(has(text, "For each degree that the bore is warmer, the head belongs 0.3 mm farther out.")) << text;
}

TEST(CardCsv, HasARowACellAndNothingWhereThereIsNoMove) {
  const Measurement measurement = even_flute(55);
  const auto lines = lines_of(card_csv(head_card(measurement), measurement));
  ASSERT_EQ(lines.size(), 1U + 8 * 7);
  EXPECT_EQ(lines[0],
            "a4_hz,bore_temp_c,slide_mm,slide_u95_mm,head_out_mm,limit,check_note,check_midi,check_cents,"
            "check_u95_cents\r");
  EXPECT_EQ(lines[7], "438,30,,,,,,,,\r");
}

TEST(CardJson, SaysTheSameAsTheCard) {
  const Measurement measurement = even_flute(10, known_head_place);
  const HeadCard card = head_card(measurement);
  const Json json = Json::parse(card_json(card, measurement, "1.2.3"));
  EXPECT_EQ(json["schema"], "windway.card.v1");
  EXPECT_EQ(json["instrument"]["lowest"], "D5");
  EXPECT_EQ(json["measured_head_out_mm"], 0.5);
  const Json& cell = json["rows"][2]["cells"][4];
  EXPECT_EQ(cell["bore_temp_c"], 25);
  EXPECT_NEAR(cell["slide_mm"].get<double>(), *card.rows[2].cells[4].slide_mm, 1e-6);
  EXPECT_EQ(cell["check_note"], "D5");
  const Json far = Json::parse(card_json(head_card(even_flute(55)), even_flute(55), ""))["rows"][0]["cells"][6];
  EXPECT_TRUE(far["slide_mm"].is_null() && far["check_note"].is_null() && far["check_midi"].is_null());
}

}  // namespace
}  // namespace windway
