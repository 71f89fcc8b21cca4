// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/advice.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "report/measurement/invented_measurement.hpp"

namespace windway {
namespace {

using report_tests::invented_measurement;
using report_tests::with_notes;

bool has_part(const std::vector<std::string>& lines, const std::string& part) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(part) != std::string::npos; });
}

TEST(Advice, SaysFirstWhatToDoWithTheHeadAndHowSureThatIs) {
  const auto lines = advice(invented_measurement());
  EXPECT_EQ(lines.at(0), "Draw the head out 1.2 mm (± 0.1): the whole scale comes down 7.9 cents (± 0.4).");
  EXPECT_EQ(lines.at(1),
            "Set it by D5: blown moderately it should then be 0.9 cents sharp; against a drone, one beat in 3 s.");
  EXPECT_EQ(lines.back(), "As it stands this whistle is at home at A4 = 442.0 Hz.");
}

TEST(Advice, TellsOfANoteThatIsMeantOffTheTemperamentWhatATunerAndADroneShow) {
  Measurement measurement = invented_measurement();
  measurement.naming.instrument.scale.front().target_cents = -8.0;  // of D5, which is left 0.9 cents sharp of it
  EXPECT_EQ(advice(measurement).at(1),
            "Set it by D5: blown moderately it should then be 7.1 cents flat (its target is 8.0 cents flat of "
            "the temperament); against a drone, 2 beats a second.");
}

TEST(Advice, AddsTheLawsUncertaintyToTheMeasurements) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_u95_mm = 0.3;
  measurement.compromise->slide_model_u95_mm = 0.4;  // 0.3 and 0.4 in quadrature: 0.5
  EXPECT_TRUE(advice(measurement).front().starts_with("Draw the head out 1.2 mm (± 0.5)"));
}

TEST(Advice, PushesInForAFlatScaleAndAsksWhetherItIsFullyIn) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = -1.24;
  measurement.compromise->shift_cents = 7.93;
  measurement.warnings.push_back({WarningCode::head_position_unknown, "..."});
  const auto lines = advice(measurement);
  EXPECT_EQ(lines.at(0), "Push the head in 1.2 mm (± 0.1): the whole scale comes up 7.9 cents (± 0.4).");
  EXPECT_TRUE(has_part(lines, "run again with --fully-in"));
}

TEST(Advice, LeavesAHeadThatIsSetWithinTheUncertainty) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = 0.14;
  measurement.compromise->slide_u95_mm = 0.15;
  EXPECT_TRUE(advice(measurement).front().starts_with("The head is already set"));
  EXPECT_TRUE(has_part(advice(measurement), "Check it by D5: blown moderately it should be 0.9 cents sharp"));
  measurement.compromise->slide_u95_mm = 0.05;
  EXPECT_TRUE(advice(measurement).front().starts_with("Draw the head out 0.1 mm"));
}

TEST(Advice, DoesNotCallAHeadSetWhosePlaceItCannotTell) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = 0.3;
  measurement.compromise->slide_u95_mm = 1.8;
  for (MovedNote& note : measurement.compromise->notes) note.cents_per_mm = 6.0;
  const std::string blown = advice(measurement).front();
  EXPECT_TRUE(
      blown.starts_with("Leave the head where it is for now: this recording cannot tell its best place better "
                        "than ± 1.8 mm (11 cents)."))
      << blown;
  EXPECT_TRUE(blown.ends_with("Blow each note soft, moderate and hard.")) << blown;
  for (NoteBreath& note : measurement.breath.notes) note.spread = CentsEstimate{10.0, 0.5};
  EXPECT_TRUE(advice(measurement).front().ends_with("give windway measure both."));  // they were blown so already
}

TEST(Advice, LeavesAHeadThatNobodyCouldSetMoreFinely) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = -0.09;
  measurement.compromise->slide_u95_mm = 0.01;
  measurement.compromise->slide_model_u95_mm = 0.005;
  EXPECT_TRUE(advice(measurement).front().starts_with("The head is already set"));
}

TEST(Advice, SaysWhatTheBreathMustDoWhereTheHeadIsFixed) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = 0;
  measurement.compromise->limit = SlideLimit::fixed_head;
  const auto lines = advice(measurement);
  EXPECT_TRUE(
      lines.front().starts_with("The head is fixed, so only the breath can tune it: the scale is 12.3 cents sharp"));
  EXPECT_EQ(lines.at(1),
            "Blow softer on A5 and harder on F#5, as the table says. The breath cannot bring B5 into tune.");
  EXPECT_FALSE(has_part(lines, "Set it by"));
}

TEST(Advice, SaysWhatTheBreathMustDoWhereTheHeadGoesNoFurther) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = -0.5;
  measurement.compromise->shift_cents = 3.0;
  measurement.compromise->limit = SlideLimit::fully_in;
  EXPECT_TRUE(
      advice(measurement).front().starts_with("Push the head fully in, 0.5 mm (± 0.1): the whole scale comes up"));
  EXPECT_TRUE(has_part(advice(measurement), "Blow softer on A5"));
  measurement.compromise->slide_mm = 0;
  EXPECT_TRUE(advice(measurement).front().starts_with("The head is fully in and goes no further"));
  measurement.compromise->limit = SlideLimit::travel;
  EXPECT_TRUE(advice(measurement).front().starts_with("The head is at the end of its travel"));
}

TEST(Advice, AsksInsteadOfMovingWhereTheWholeScaleIsFarOff) {
  Measurement measurement = invented_measurement();
  measurement.warnings.push_back(
      {WarningCode::scale_far_off, "the whole scale is 98.0 cents flat. Is it made for A4 = 415 Hz?"});
  const auto lines = advice(measurement);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_EQ(lines.front(), "The whole scale is 98.0 cents flat. Is it made for A4 = 415 Hz?");
}

TEST(Advice, MeasuresTheOnlyNoteAndSaysWhatIsMissing) {
  const auto lines = advice(with_notes(invented_measurement(), {3}));
  EXPECT_EQ(lines.at(0), "B5, the only note, is 22.4 cents sharp (± 0.3) against A4 = 440 Hz.");
  EXPECT_TRUE(has_part(lines, "Record the whole scale, each note soft, moderate and hard"));
  EXPECT_FALSE(has_part(lines, "Draw"));
}

TEST(Advice, SaysSoWhereNoNoteWasMeasured) {
  Measurement measurement = with_notes(invented_measurement(), {});
  measurement.compromise.reset();
  EXPECT_EQ(advice(measurement).size(), 1u);
}

TEST(Advice, AsksWhatIsWrongAlsoWhereNoNoteFitsTheScale) {
  Measurement measurement = with_notes(invented_measurement(), {});
  measurement.compromise.reset();
  measurement.warnings.push_back({WarningCode::scale_doubtful, "the recording does not fit. Check the kind."});
  EXPECT_EQ(advice(measurement), std::vector<std::string>{"The recording does not fit. Check the kind."});
}

TEST(Advice, GivesThoseWithoutACalliperTheThicknessOfABankCard) {
  // 0.76 mm: ISO/IEC 7810 (from memory).
  const auto says = [](double slide_mm, const std::string& words) {
    Measurement measurement = invented_measurement();
    measurement.compromise->slide_mm = slide_mm;
    for (const std::string& line : advice(measurement))
      if (line.find("bank card") != std::string::npos) return !words.empty() && line.find(words) != std::string::npos;
    return words.empty();
  };
  EXPECT_TRUE(says(1.2, "about one and a half of them"));
  EXPECT_TRUE(says(-0.8, "about one of them"));
  EXPECT_TRUE(says(0.35, "about half of one"));
  EXPECT_TRUE(says(1.6, ""));
}

TEST(Advice, SaysWhichA4TheHeadReaches) {
  Measurement measurement = invented_measurement();
  measurement.compromise->highest_a4_hz = 444.04;
  EXPECT_NE(advice(measurement).back().find("Fully in it would be at 444.0 Hz"), std::string::npos);
  measurement.compromise->lowest_a4_hz = 431.96;
  EXPECT_NE(advice(measurement).back().find("reaches from 432.0 Hz to 444.0 Hz"), std::string::npos);
}

TEST(Advice, OffersOneChangeOfTheBlowingWhereTheHeadCannotHelp) {
  Measurement measurement = invented_measurement();
  measurement.compromise->limit = SlideLimit::fixed_head;
  measurement.compromise->steady_blow = SteadyBlow{-1.5, 0.5, -4.2, 0.1};
  bool said = false;
  for (const std::string& line : advice(measurement))
    said |= line.find("To change all notes alike, blow softer, halfway to soft (1.5 dB)") != std::string::npos &&
            line.find("comes down 4 cents") != std::string::npos;
  EXPECT_TRUE(said);
}

}  // namespace
}  // namespace windway
