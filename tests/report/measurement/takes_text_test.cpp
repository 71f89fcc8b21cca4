// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/takes_text.hpp"

#include <gtest/gtest.h>

#include "report/measurement/invented_measurement.hpp"
#include "report/measurement/text.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

std::string takes_text(const Measurement& measurement) { return text_of(measurement_prose(measurement)); }

std::string wide(const Prose& prose) { return text_of(prose, 200); }

/// Three takes; the best place is 1.2 mm further out than where the notes are told for.
Measurement of_three_takes() {
  Measurement measurement = report_tests::invented_measurement();
  measurement.takes.resize(3, measurement.takes.front());
  TakeAgreement agreement;
  agreement.apart = {0.84, 0.52};
  agreement.note_u95_cents = 1.46;
  agreement.takes.resize(3);
  measurement.agreement = agreement;
  return measurement;
}

TEST(TakesText, SaysHowWellTheTakesAgree) {
  Measurement measurement = of_three_takes();
  EXPECT_EQ(wide(agreement_line(measurement)),
            "  The 3 takes agree within 0.8 cents (± 0.5); a single note repeats within 1.5 cents.\n");
  EXPECT_FALSE(has(takes_text(measurement), "One take"));
  measurement.agreement->takes.resize(2);
  EXPECT_TRUE(has(wide(agreement_line(measurement)), "2 of the 3 takes agree within"));
  measurement.agreement.reset();
  EXPECT_TRUE(has(wide(agreement_line(measurement)), "These takes were blown at different strengths"));
  measurement.warnings.push_back({WarningCode::takes_not_compared, "no two of the takes share a note"});
  EXPECT_TRUE(agreement_line(measurement).empty());
}

TEST(TakesText, LeadsWithTheDisagreementAndGivesNoMove) {
  Measurement measurement = of_three_takes();
  measurement.agreement->agree = false;
  measurement.warnings.push_back({WarningCode::takes_disagree, "the takes do not agree: so it is."});
  const std::string text = takes_text(measurement);
  EXPECT_TRUE(text.starts_with("The takes do not agree: so it is.\n")) << text;
  EXPECT_FALSE(has(text, "Draw the head out"));
  EXPECT_FALSE(has(text, "warning: the takes"));
  EXPECT_FALSE(has(text, "moved"));
}

TEST(TakesText, SaysAnotherDeepDoubtBesideTheDisagreement) {
  Measurement measurement = of_three_takes();
  measurement.agreement->agree = false;
  measurement.warnings.push_back({WarningCode::takes_disagree, "the takes do not agree."});
  measurement.warnings.push_back({WarningCode::scale_far_off, "the whole scale is 90 cents flat."});
  EXPECT_TRUE(takes_text(measurement).starts_with("The whole scale is 90 cents flat.\nThe takes do not agree.\n"));
}

TEST(TakesText, AnswersSeveralPlacesByTheBestPlace) {
  Measurement measurement = of_three_takes();
  measurement.places = HeadPlaces{{0.0, 2.0, 4.0}, 2.0, SlideFactor{0.974, 0.021}, true, 0.36, {{81}}};
  const std::string text = takes_text(measurement);
  EXPECT_TRUE(
      text.starts_with("The best place for the head is 3.2 mm out (± 0.1), from 3 takes at 0, 2 and\n  4 mm.\n"))
      << text;
  EXPECT_TRUE(has(text, "\nWith the head 2 mm out this whistle is at home at A4 = "));
  EXPECT_TRUE(has(text, "  soft, moderate, hard: with the head 2 mm out\n"));
  EXPECT_TRUE(has(wide(law_line(measurement)), "changes the pitch of this flute 0.97 (± 0.02) times as much"))
      << wide(law_line(measurement));
  EXPECT_TRUE(has(wide(law_line(measurement)), "A5 does not follow that")) << wide(law_line(measurement));
  EXPECT_FALSE(has(text, "bank card"));
  EXPECT_FALSE(has(text, "beyond"));
  measurement.places->out_mm = {0.0, 1.0, 3.0};
  EXPECT_TRUE(has(best_place_line(measurement, ""), " That is beyond the places you recorded:"));
  measurement.places->factor_is_telling = false;
  EXPECT_TRUE(has(wide(law_line(measurement)), "windway did not use that")) << wide(law_line(measurement));
  measurement.compromise->limit = SlideLimit::fully_in;
  EXPECT_TRUE(takes_text(measurement).starts_with("The head belongs fully in: the scale is "));
}

}  // namespace
}  // namespace windway
