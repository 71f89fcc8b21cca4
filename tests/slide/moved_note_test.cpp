// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::measured_note;
using test::one_blow_note;
using test::sound_25_m_s;

/// The note with a head that does not move: what it reads is what is left.
MovedNote left_as(const NoteBreath& note) {
  return find_compromise({note}, Head{false, {}, {}}, 440.0, sound_25_m_s, {}).notes.at(0);
}

TEST(MovedNote, WithinThreeCentsIsPlayedAsItIs) {
  EXPECT_EQ(left_as(measured_note(74, -5, 3.0, 10)).breath, BreathAdvice::as_it_is);
  EXPECT_EQ(left_as(measured_note(74, -5, 3.01, 10)).breath, BreathAdvice::softer);
  EXPECT_EQ(left_as(measured_note(74, -10, -3.01, 10)).breath, BreathAdvice::harder);
  EXPECT_FALSE(left_as(measured_note(74, -5, 3.0, 10)).breath_share);
}

TEST(MovedNote, AFifthOfTheReachIsPlayedAsItIs) {
  EXPECT_EQ(left_as(measured_note(74, -32, 8.0, 20)).breath, BreathAdvice::as_it_is);
  EXPECT_EQ(left_as(measured_note(74, -31, 8.0, 20)).breath, BreathAdvice::softer);
}

TEST(MovedNote, BeyondAMeasuredReachIsOutOfReach) {
  const MovedNote sharp = left_as(measured_note(74, 2, 12, 15));
  EXPECT_EQ(sharp.breath, BreathAdvice::out_of_reach);
  EXPECT_NEAR(sharp.effort, 1.2, 1e-12);
  EXPECT_NEAR(sharp.breath_share.value(), 1.2, 1e-12);
  EXPECT_EQ(left_as(measured_note(74, -2, 12, 15)).breath, BreathAdvice::softer);
  EXPECT_EQ(left_as(measured_note(74, -40, -12, -2)).breath, BreathAdvice::out_of_reach);
}

TEST(MovedNote, WithoutAMeasuredReachNothingIsOutOfReachAndNoShareIsClaimed) {
  const MovedNote sharp = left_as(one_blow_note(74, 12));
  EXPECT_EQ(sharp.breath, BreathAdvice::softer);
  EXPECT_FALSE(sharp.breath_share);
  EXPECT_FALSE(sharp.breath_db);
  EXPECT_NEAR(sharp.effort, 12.0 / 5.0, 1e-12);
}

TEST(MovedNote, TheBreathInDecibelsGoesDownForASharpNote) {
  NoteBreath note = measured_note(74, -12, 8, 30);
  note.cents_per_db = CentsEstimate{4.0, 0.1};
  EXPECT_NEAR(left_as(note).breath_db.value(), -2.0, 1e-12);
  note.moderate.cents = -6;
  EXPECT_NEAR(left_as(note).breath_db.value(), 1.5, 1e-12);
  note.cents_per_db = CentsEstimate{-0.2, 0.5};
  EXPECT_FALSE(left_as(note).breath_db) << "a response that falls with the level advises nothing";
}

TEST(MovedNote, BeatsAgainstADroneOnTheTarget) {
  // 441 against 440 Hz: one beat a second, 3.9302 cents (arithmetic; the last place is 1.3e-5 Hz).
  NoteBreath note = measured_note(69, -20, 3.9302, 20);
  EXPECT_NEAR(left_as(note).beats_hz, 1.0, 1.5e-5);
  note.moderate.cents = -3.9391;  // 439 Hz
  EXPECT_NEAR(left_as(note).beats_hz, 1.0, 1.5e-5);
}

TEST(MovedNote, ItsUncertaintyIsItsOwnAndThatOfTheHead) {
  std::vector<NoteBreath> notes = test::even_scale(74, 0);
  notes[3].moderate.u95_cents = 2.0;
  const Compromise compromise = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_NEAR(compromise.notes[3].u95_cents, 2.0, 0.25);
  // Another note, itself exact, is as unsure as the place of the head is.
  const MovedNote& exact = compromise.notes[0];
  EXPECT_GT(exact.u95_cents, 0.0);
  EXPECT_NEAR(exact.u95_cents, exact.cents_per_mm * compromise.slide_u95_mm, 0.01);
}

TEST(MovedNote, ALoneNoteIsNotSaidToComeOutTrueForCertain) {
  NoteBreath note = measured_note(74, -10, 5, 20);
  note.moderate.u95_cents = 1.0;
  const Compromise compromise = find_compromise({note}, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_GT(compromise.notes[0].u95_cents, 1.0);
  EXPECT_NEAR(compromise.shift_u95_cents, 1.0, 0.12);
}

TEST(MovedNote, WithoutUncertaintyOfTheNotesNothingIsUncertainButTheLaw) {
  const Compromise compromise = find_compromise(test::even_scale(74, 10), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_NEAR(compromise.slide_u95_mm, 0.0, 1e-9);
  EXPECT_NEAR(compromise.shift_u95_cents, 0.0, 1e-9);
  EXPECT_NEAR(compromise.slide_model_u95_mm, 0.05 * compromise.slide_mm, 1e-12);
}

}  // namespace
}  // namespace windway
