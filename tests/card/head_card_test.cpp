// SPDX-License-Identifier: GPL-3.0-or-later
#include "card/head_card.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "analysis.hpp"
#include "card/even_flute.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/saved.hpp"
#include "slide/law_of_slide.hpp"

namespace windway {
namespace {

using test::even_flute;

const std::string sample = WINDWAY_SAMPLES_DIR "/takes/hw-0412-steps.flac";

MeasureSettings settings_of_sample() {
  MeasureSettings settings;
  settings.instrument.lowest = parse_note("D5", NoteNames::english);
  settings.instrument.kind = Kind::whistle;
  settings.head = {true, 2.0, 6.0, {}};
  settings.digest = Digest::left_out;
  return settings;
}

const CardCell& cell_at(const HeadCard& card, double a4_hz, double bore_temp_c) {
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells)
      if (row.a4_hz == a4_hz && cell.bore_temp_c == bore_temp_c) return cell;
  throw std::out_of_range("no such cell");
}

ErrorKind refusal_of(const Measurement& measurement, const std::string& what) {
  try {
    head_card(measurement);
  } catch (const Error& error) {
    EXPECT_NE(std::string(error.what()).find(what), std::string::npos) << error.what();
    return error.kind();
  }
  ADD_FAILURE() << "not refused: " << what;
  return ErrorKind::output;
}

TEST(HeadCard, SaysInEachCellWhatMeasureSaysOfTheSameTakeThere) {
  const MeasureSettings settings = settings_of_sample();
  const HeadCard card = head_card(measure({sample}, settings));
  struct Place {
    double a4_hz, bore_temp_c;
  };
  int at_limit = 0;
  for (const Place& place : {Place{438, 15}, Place{440, 25}, Place{441, 20}, Place{443, 30}, Place{445, 15}}) {
    MeasureSettings there = settings;
    there.tuning.a4_hz = place.a4_hz;
    there.quote_at_c = place.bore_temp_c;
    const Measurement found = measure({sample}, there);
    const Compromise& told = *found.compromise;
    const CardCell& cell = cell_at(card, place.a4_hz, place.bore_temp_c);
    EXPECT_NEAR(*cell.slide_mm, told.slide_mm, 1e-6) << place.a4_hz << " Hz, " << place.bore_temp_c;
    EXPECT_NEAR(*cell.slide_u95_mm, std::hypot(told.slide_u95_mm, told.slide_model_u95_mm), 1e-6);
    EXPECT_NEAR(*cell.head_out_mm, 2.0 + told.slide_mm, 1e-6);
    EXPECT_EQ(cell.limit, told.limit);
    const auto checked = std::ranges::find(found.breath.notes, card.check_note, &NoteBreath::id);
    EXPECT_NEAR(cell.check->cents, told.notes[static_cast<std::size_t>(checked - found.breath.notes.begin())].cents,
                1e-6);
    at_limit += told.limit ? 1 : 0;
  }
  EXPECT_GT(at_limit, 0);  // both kinds of cell were looked at
  EXPECT_LT(at_limit, 5);
}

TEST(HeadCard, OfASavedResultIsThatOfItsTake) {
  Measurement measurement = measure({sample}, settings_of_sample());
  measurement.breath.notes[0].can_check = false;  // it would set the head best
  for (NoteBreath& note : measurement.breath.notes) note.warming_u95_cents = 3.0;
  measurement = test::with_move(measurement);
  const HeadCard card = head_card(measurement);
  const HeadCard again = head_card(measurement_from_json(json_report(measurement, ""), "saved"));
  EXPECT_EQ(again.check_note, card.check_note);
  EXPECT_NE(again.check_note.midi, 74);
  for (const CardRow& row : card.rows) {
    for (const CardCell& cell : row.cells) {
      const CardCell& other = cell_at(again, row.a4_hz, cell.bore_temp_c);
      EXPECT_NEAR(*other.slide_mm, *cell.slide_mm, 1e-4);
      EXPECT_NEAR(*other.slide_u95_mm, *cell.slide_u95_mm, 1e-4);
      EXPECT_NEAR(other.check->cents, cell.check->cents, 1e-3);
    }
  }
}

TEST(HeadCard, OfATakeQuotedAtAnotherTemperatureIsTheSame) {
  MeasureSettings settings = settings_of_sample();
  const HeadCard card = head_card(measure({sample}, settings));
  settings.quote_at_c = 18;
  const HeadCard quoted = head_card(measure({sample}, settings));
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells)
      EXPECT_NEAR(*cell_at(quoted, row.a4_hz, cell.bore_temp_c).slide_mm, *cell.slide_mm, 1e-6);
}

TEST(HeadCard, AsksAnEvenFluteForTheMoveThatTheLawOfTheSlideGivesOneNote) {
  // All notes alike off: the least cost lies between the moves that make the longest and the shortest note true.
  const HeadCard card = head_card(even_flute(20));
  const double air_cents = air_change_cents(Air{}, Air{.temperature_c = 18});
  const double off_cents = 20 + air_cents - cents_between(440, 439);
  const double longest_mm =
      1000.0 * speed_of_sound_m_s(Air{.temperature_c = 18}) / (2.0 * hz_at_cents(587.33 * 439 / 440, off_cents));
  const double slide_mm = *cell_at(card, 439, 18).slide_mm;
  EXPECT_GT(slide_mm, 0.0);
  EXPECT_LT(slide_mm, slide_for_change_mm(longest_mm, -off_cents));
  EXPECT_GT(slide_mm, slide_for_change_mm(longest_mm / 2.0, -off_cents));
}

TEST(HeadCard, DrawsOutFartherForALowerA4AndAWarmerBore) {
  const HeadCard card = head_card(even_flute(30));
  for (std::size_t row = 1; row < card.rows.size(); ++row)
    EXPECT_LT(*card.rows[row].cells[3].slide_mm, *card.rows[row - 1].cells[3].slide_mm);
  for (const CardRow& row : card.rows)
    for (std::size_t cell = 1; cell < row.cells.size(); ++cell)
      EXPECT_GT(*row.cells[cell].slide_mm, *row.cells[cell - 1].slide_mm);
  const double across_mm = *card.rows[2].cells.back().slide_mm - *card.rows[2].cells.front().slide_mm;
  EXPECT_NEAR(*card.mm_per_degree, across_mm / 15.0, 0.05);
}

TEST(HeadCard, NeverSaysAPlaceThatTheHeadCannotReach) {
  const HeadCard card = head_card(even_flute(10, {true, 0.5, 2.0, {}}));
  int fully_in = 0, at_end = 0, reached = 0;
  for (const CardRow& row : card.rows) {
    for (const CardCell& cell : row.cells) {
      EXPECT_GE(*cell.head_out_mm, 0.0);
      EXPECT_LE(*cell.head_out_mm, 2.0);
      fully_in += cell.limit == SlideLimit::fully_in ? 1 : 0;
      at_end += cell.limit == SlideLimit::travel ? 1 : 0;
      reached += is_reached(cell) ? 1 : 0;
    }
  }
  EXPECT_GT(fully_in, 0);
  EXPECT_GT(at_end, 0);
  EXPECT_GT(reached, 0);
}

TEST(HeadCard, HasNoPlacesWhereItIsNotKnownWhereTheHeadStood) {
  for (const CardRow& row : head_card(even_flute(10)).rows)
    for (const CardCell& cell : row.cells) EXPECT_FALSE(cell.head_out_mm);
}

TEST(HeadCard, AdvisesNoMoveWhereMeasureWouldNot) {
  const HeadCard card = head_card(even_flute(55));
  EXPECT_FALSE(cell_at(card, 438, 30).slide_mm);
  EXPECT_FALSE(cell_at(card, 438, 30).check);
  EXPECT_TRUE(cell_at(card, 445, 20).slide_mm);
}

TEST(HeadCard, RefusesATakeThatDoesNotSayWhereTheHeadBelongs) {
  EXPECT_EQ(refusal_of(even_flute(90), "too far for a move"), ErrorKind::recording);
  Measurement one_note = even_flute(10);
  one_note.breath.notes.resize(1);
  EXPECT_EQ(refusal_of(test::with_move(one_note), "one note only"), ErrorKind::recording);
  Measurement no_move = even_flute(10);
  no_move.compromise.reset();
  EXPECT_EQ(refusal_of(no_move, "no measured scale"), ErrorKind::recording);
  EXPECT_EQ(refusal_of(even_flute(10, {false, {}, {}, {}}), "fixed"), ErrorKind::usage);
}

TEST(CardRows, LieAboutTheReferencePitchOfTheTake) {
  EXPECT_EQ(card_a4s_hz(440).front(), 438);
  EXPECT_EQ(card_a4s_hz(440).back(), 445);
  EXPECT_EQ(card_a4s_hz(445.4).front(), 438);
  EXPECT_EQ(card_a4s_hz(415).front(), 413);
  EXPECT_EQ(card_a4s_hz(415).back(), 420);
  EXPECT_EQ(card_a4s_hz(447).front(), 445);
}

}  // namespace
}  // namespace windway
