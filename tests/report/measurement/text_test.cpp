// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/text.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "report/measurement/invented_measurement.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using report_tests::invented_measurement;
using report_tests::with_notes;

std::string text_report(const Measurement& measurement, std::size_t columns = text_columns) {
  return text_of(measurement_prose(measurement, columns), columns);
}

TEST(TextReport, IsThis) {
  EXPECT_EQ(text_report(invented_measurement()),
            R"(Draw the head out 1.2 mm (± 0.1): the whole scale comes down 7.9 cents (± 0.4).
Set it by D5: blown moderately it should then be 0.9 cents sharp; against a
  drone, one beat in 3 s.
Without a calliper: a bank card is 0.76 mm thick (ISO/IEC 7810), so about one
  and a half of them.
As it stands this whistle is at home at A4 = 442.0 Hz.

  note  then blow        moved  beats  soft  moderate   hard  spread  holds
  D5    as it is          +0.9    0.3  +3.6      +7.9  +11.2     7.6      3
  F#5   harder, halfway   -3.6    0.3  -8        +4.2  +12.2    20.6      3
  A5    softer, 1/4 way   +4.1    0.3  -1.2     +14.6  +27.9    29.1      3
  B5    out of reach     +14.5    0.3     -     +22.4      -       -      1
  C6: not in this scale (1 hold)
  cents from the target (A4 = 440 Hz, equal temperament, sounding pitch)
  then blow: 1/4 way is a quarter of your way from moderate to soft, or to hard
  moved: at moderate breath, once the head is moved
  beats: a second, once the head is moved, against a drone on the target
  spread: from soft to hard; -: not known

  11 holds of 4 notes in 63 s, whistle in D from D5. The breath bends D5 least
  and A5 most (29.1 cents from soft to hard).
  One take cannot show how well you repeat it. Record a second with the head
  where it is, then ask: windway compare FIRST SECOND --same-setting

warning: B5 was blown at one strength only: its spread is not known. Blow it
  soft, moderate and hard and record again.
)");
}

TEST(TextReport, WritesOutWhatToBlowWhereTheScreenIsWide) {
  const std::string text = text_report(invented_measurement(), 100);
  EXPECT_TRUE(
      has(text, "  A5    softer, a quarter of the way to soft   +4.1    0.3  -1.2     +14.6  +27.9    29.1      3"))
      << text;
  EXPECT_TRUE(has(text, "the whole scale comes down 7.9 cents (± 0.4).\n"));
  EXPECT_FALSE(has(text, "1/4 way"));
}

TEST(TextReport, LeavesOutColumnsWhereTheScreenIsNarrow) {
  const std::string text = text_report(invented_measurement(), 58);
  EXPECT_TRUE(has(text, "  note  then blow        moved  soft  moderate   hard\n")) << text;
}

TEST(TextReport, KeepsWithinTheColumnsOfTheScreen) {
  Measurement measurement = invented_measurement();
  for (MovedNote& note : measurement.compromise->notes) {
    note.breath = BreathAdvice::softer;
    note.breath_share = 0.75;
    note.cents = -123.4;
  }
  measurement.breath.notes[0].id.fingering = "vented";
  measurement.compromise->check_note.id = measurement.breath.notes[0].id;
  measurement.settings.a4_u95_hz = 0.05;
  measurement.breath.drift = Drift{6.24, 0.8, 61.7};
  measurement.warnings.push_back({WarningCode::clipped, std::string(40, 'x') + " " + std::string(39, 'y') + " end"});
  for (const std::size_t columns : {62U, 80U, 100U, 140U}) {
    const std::string text = text_report(measurement, columns);
    EXPECT_TRUE(fits(text, columns)) << columns << "\n" << text;
  }
}

TEST(TextReport, MarksModeratesThatAreOnlyMidway) {
  Measurement measurement = invented_measurement();
  EXPECT_FALSE(has(text_report(measurement), "*"));
  measurement.breath.notes[0].moderate_is_midway = true;
  const std::string text = text_report(measurement);
  EXPECT_TRUE(has(text, "+7.9*"));
  EXPECT_TRUE(has(text, "*: midway"));
}

TEST(TextReport, ShowsNoMoveWhereNoneIsAdvised) {
  Measurement measurement = invented_measurement();
  measurement.warnings = {{WarningCode::scale_far_off, "the whole scale is 98.0 cents flat"}};
  EXPECT_FALSE(has(text_report(measurement), "then blow"));
  EXPECT_FALSE(has(text_report(measurement), "warning"));
  EXPECT_FALSE(has(text_report(with_notes(invented_measurement(), {0})), "moved"));
  measurement = invented_measurement();
  measurement.compromise.reset();
  EXPECT_FALSE(has(text_report(measurement), "moved"));
}

TEST(TextReport, LeavesOutTheMoveWhereTheHeadStays) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = 0;
  measurement.compromise->limit = SlideLimit::fixed_head;
  EXPECT_TRUE(has(text_report(measurement), "then blow"));
  EXPECT_FALSE(has(text_report(measurement), "moved"));
}

TEST(TextReport, LeavesOutTheMoveThatTheTakeCannotTell) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_mm = 0.05;
  EXPECT_FALSE(has(text_report(measurement), "moved"));
  measurement.compromise->slide_mm = 1.2;
  measurement.compromise->slide_u95_mm = 3.0;
  EXPECT_FALSE(has(text_report(measurement), "moved"));
  measurement.compromise->limit = SlideLimit::travel;  // there the head is to go, however unsure the best place is
  const std::string text = text_report(measurement);
  EXPECT_TRUE(has(text, "Draw the head out to the end of its travel")) << text;
  EXPECT_TRUE(has(text, "Set it by D5")) << text;
  EXPECT_TRUE(has(text, "moved")) << text;
}

TEST(TextReport, SaysTheDriftWhereItIsSeen) {
  Measurement measurement = invented_measurement();
  EXPECT_FALSE(has(text_report(measurement), "During the take"));
  measurement.breath.drift = Drift{6.24, 0.8, 61.7};
  EXPECT_TRUE(has(text_report(measurement), "During the take the pitch rose 6.2 cents (± 0.8)"));
  EXPECT_TRUE(has(text_report(measurement), "as they were at 62 s"));
  measurement.breath.drift = Drift{0.24, 0.8, 61.7};
  EXPECT_FALSE(has(text_report(measurement), "During the take"));
}

TEST(TextReport, UsesTheNoteNamesAskedFor) {
  Measurement measurement = invented_measurement();
  measurement.settings.note_names = NoteNames::german;
  EXPECT_TRUE(has(text_report(measurement), "  H5 "));
}

TEST(TextReport, SpellsNotesAsTheKeyDoes) {
  Measurement measurement = invented_measurement();
  measurement.naming.instrument.lowest_midi = 77;
  measurement.breath.notes[0].id.midi = 82;
  measurement.compromise->check_note.id.midi = 82;
  EXPECT_TRUE(has(text_report(measurement), "Set it by Bb5"));
}

}  // namespace
}  // namespace windway
