// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/truth.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway::synthesis {
namespace {

/// A flute whose every note is in tune, alike on either side of moderate.
std::vector<TrueNote> notes_in_tune() {
  std::vector<TrueNote> notes;
  for (const int midi : major_scale(74, 21)) {
    TrueNote note;
    note.midi = midi;
    note.register_number = midi >= 86 ? 2 : 1;
    note.target_hz = 440.0 * std::exp2((midi - 69) / 12.0);
    note.soft_cents = -12.0;
    note.hard_cents = 12.0;
    note.spread_cents = 24.0;
    notes.push_back(note);
  }
  return notes;
}

TEST(LeastCost, MovesBackAFluteThatWasMovedAway) {
  auto notes = notes_in_tune();
  // Pushed in by 2 mm: an air column of L mm sounds as one of L - 2.
  for (TrueNote& note : notes) {
    const double length_mm = effective_length_mm(note.register_number, note.target_hz);
    const double cents = 1200.0 * std::log2(length_mm / (length_mm - 2.0));
    note.moderate_cents += cents;
    *note.soft_cents += cents;
    *note.hard_cents += cents;
  }
  const LeastCost best = least_cost(notes);
  EXPECT_NEAR(best.slide_mm, 2.0, 0.0051);
  EXPECT_LT(best.cost, 1e-4);
}

TEST(LeastCost, StopsAtTheLimitOfTravel) {
  auto notes = notes_in_tune();
  for (TrueNote& note : notes) note.moderate_cents = -15.0;
  EXPECT_DOUBLE_EQ(least_cost(notes, 0.0, 10.0).slide_mm, 0.0);
}

TEST(HomeA4, IsWhereAFluteOfOneErrorAlikeIsAtHome) {
  auto notes = notes_in_tune();
  for (TrueNote& note : notes) {
    note.moderate_cents += 7.85;
    *note.soft_cents += 7.85;
    *note.hard_cents += 7.85;
  }
  EXPECT_NEAR(home_a4_hz(notes, 440.0), 442.0, 0.01);  // ISO 16 pitch and A442: 7.8514 cents apart
}

TEST(EffectiveLength, OfD5IsThatOfAnOpenPipe) {
  // c / (2 f), c = 346.268 m/s: O. Cramer, J. Acoust. Soc. Am. 93 (1993) 2510, dry air of 25 degrees C
  EXPECT_NEAR(effective_length_mm(1, 587.3295), 294.78, 0.01);
  EXPECT_NEAR(effective_length_mm(2, 2.0 * 587.3295), 294.78, 0.01);
  EXPECT_NEAR(slide_cents(294.78, 0.01) / 0.01, -5.873, 0.001);
}

TEST(TrueNotes, KnowNoSpreadOfNotesBlownOnce) {
  Random random(2);
  const FluteModel flute = draw_flute({}, random);
  const auto plain = note_by_note({74}, {Blow::moderate}, {}, {}, random);
  EXPECT_FALSE(true_notes(flute, plain, {}).front().spread_cents.has_value());
  const auto swell = note_by_note({74}, {Blow::swell}, {}, {}, random);
  EXPECT_GT(true_notes(flute, swell, {}).front().spread_cents.value(), 0.0);
}

}  // namespace
}  // namespace windway::synthesis
