// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::measured_note;
using test::one_blow_note;
using test::sound_25_m_s;

NoteBreath with_response(NoteBreath note, double u95_cents, double cents_per_db) {
  note.moderate.u95_cents = u95_cents;
  note.cents_per_db = CentsEstimate{cents_per_db, 0.1};
  return note;
}

CheckNote check_of(const std::vector<NoteBreath>& notes, std::optional<double> repeat_db = {}) {
  return find_compromise(notes, Head{}, 440.0, sound_25_m_s, repeat_db).check_note;
}

TEST(CheckNote, IsTheSteadyOneOfTwoAlike) {
  const NoteBreath steady = with_response(measured_note(74, -5, 0, 5), 0.1, 1.0);
  const NoteBreath lively = with_response(measured_note(76, -20, 0, 20), 0.1, 5.0);
  EXPECT_EQ(check_of({steady, lively}).id.midi, 74);
  EXPECT_EQ(check_of({lively, steady}).id.midi, 74);
}

TEST(CheckNote, IsTheShortOneOfTwoEquallySteady) {
  // The same cents are fewer millimetres on the shorter tube.
  const NoteBreath low = with_response(measured_note(74, -5, 0, 5), 0.1, 1.0);
  const NoteBreath high = with_response(measured_note(79, -5, 0, 5), 0.1, 1.0);
  EXPECT_EQ(check_of({low, high}).id.midi, 79);
}

TEST(CheckNote, SaysWhatItShouldReadAndHowSurelyItSetsTheHead) {
  NoteBreath note = with_response(one_blow_note(74, 10), 0.3, 2.0);
  const NoteBreath other = with_response(one_blow_note(86, -10, 2), 3.0, 9.0);
  const Compromise compromise = find_compromise({note, other}, Head{}, 440.0, sound_25_m_s, 0.5);
  EXPECT_EQ(compromise.check_note.id.midi, 74);
  EXPECT_EQ(compromise.check_note.cents, compromise.notes[0].cents);
  const double length_mm = compromise.notes[0].effective_length_mm;
  const double judged_cents = compromise.notes[0].cents / 3.0;  // an offset from a drone is judged to a third
  EXPECT_NEAR(compromise.check_note.u95_mm,
              length_mm / 1731.2340490667561 * std::hypot(0.3, 1.96 * 2.0 * 0.5, 1.96 * judged_cents), 1e-4);
}

TEST(CheckNote, IsOneOfTheLowestRegisterThoughALoudHighOneIsShorterAndSteadier) {
  const NoteBreath low = with_response(measured_note(78, -8, 0, 8), 0.2, 1.5);
  const NoteBreath high = with_response(measured_note(98, -4, 0, 4, 2), 0.1, 0.5);
  EXPECT_EQ(check_of({low, high}).id.midi, 78);
}

TEST(CheckNote, IsOneThatDoesNotBeatRatherThanASlightlySteadierOneThatDoes) {
  const NoteBreath beats = with_response(measured_note(78, -16, -4, 8), 0.1, 1.0);
  const NoteBreath still = with_response(measured_note(76, -12, 0, 12), 0.1, 1.2);
  const std::vector<NoteBreath> others{with_response(measured_note(74, -10, 0, 10), 0.1, 4.0),
                                       with_response(measured_note(79, -10, 1, 10), 0.1, 4.0)};
  EXPECT_EQ(check_of({others[0], still, beats, others[1]}, 0.5).id.midi, 76);
}

TEST(CheckNote, IsOfAHigherRegisterWhereNoLowNoteComesIntoReach) {
  NoteBreath low = with_response(measured_note(74, -46, -40, -34), 0.1, 1.0);
  low.weight = 0.01;
  const std::vector<NoteBreath> high{with_response(measured_note(86, -10, 0, 10, 2), 0.1, 1.0),
                                     with_response(measured_note(88, -10, 0, 10, 2), 0.1, 1.1),
                                     with_response(measured_note(90, -10, 0, 10, 2), 0.1, 1.2)};
  EXPECT_GE(check_of({low, high[0], high[1], high[2]}, 0.5).id.midi, 86);
}

TEST(CheckNote, OverDrawnFlutesIsInReachAndSeldomFarOff) {
  test::FluteMaker maker(731);
  int far_off = 0;
  for (int flute = 0; flute < 200; ++flute) {
    const std::vector<NoteBreath> notes = maker.whistle(maker.uniform(-10, 20));
    const Compromise compromise = find_compromise(notes, {}, 440.0, sound_25_m_s, 0.5);
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (notes[i].id == compromise.check_note.id) {
        EXPECT_EQ(notes[i].register_number, 1);
        EXPECT_LE(compromise.notes[i].effort, 1.0);
        far_off += std::abs(compromise.notes[i].cents) > 5.0 ? 1 : 0;
      }
  }
  EXPECT_LE(far_off, 10);
}

TEST(CheckNote, TakesOneDecibelWhereRepeatsDoNotTell) {
  const std::vector<NoteBreath> notes{with_response(measured_note(74, -5, 0, 5), 0.1, 2.0)};
  EXPECT_EQ(check_of(notes).u95_mm, check_of(notes, 1.0).u95_mm);
  EXPECT_LT(check_of(notes, 0.2).u95_mm, check_of(notes).u95_mm);
}

TEST(CheckNote, ANoteOfUnknownResponseTakesTheMedian) {
  const NoteBreath steady = with_response(one_blow_note(74, 0), 0.1, 1.0);
  const NoteBreath lively = with_response(one_blow_note(78, 0), 0.1, 3.0);
  const NoteBreath liveliest = with_response(one_blow_note(76, 0), 0.1, 6.0);
  const NoteBreath less_lively = with_response(one_blow_note(78, 0), 0.1, 1.2);
  NoteBreath unknown = one_blow_note(83, 0);
  unknown.moderate.u95_cents = 0.1;
  // Its tube is 0.6 of the first's: at 3 cents per dB it is the worse of the two, at 1.2 the better.
  EXPECT_EQ(check_of({steady, lively, liveliest, unknown}).id.midi, 74);
  EXPECT_EQ(check_of({steady, less_lively, liveliest, unknown}).id.midi, 83);
}

TEST(CheckNote, WhereNoResponseIsKnownItIsTheLowest) {
  // Common practice, no source: the lowest note is steady, notes with few fingers down are not.
  std::vector<NoteBreath> notes;
  for (const int midi : {74, 76, 78, 79, 81, 83, 85}) notes.push_back(one_blow_note(midi, 4));
  for (NoteBreath& note : notes) note.moderate.u95_cents = 0.05;
  EXPECT_EQ(check_of(notes).id.midi, 74);
}

}  // namespace
}  // namespace windway
