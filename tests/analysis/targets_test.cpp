// SPDX-License-Identifier: GPL-3.0-or-later
// A maker's own targets, through the whole job: what is measured and judged is against the pitch that is meant.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "measured_take.hpp"
#include "support/plan.hpp"
#include "verdict/verdict.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;

constexpr int lowest = 74, g5 = 79;

/// Two octaves, all notes in tune but for what `off_cents(midi)` says.
template <typename OffCents>
SyntheticTake take_of_flute(const OffCents& off_cents) {
  Random random(11);
  FluteModel flute = draw_flute({.scatter_cents = 0.0}, random);
  for (NoteModel& note : flute.notes) note.error_cents = off_cents(note.midi);
  const auto blows = note_by_note(major_scale(lowest, 24), {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  return synthesise_take(flute, blows, {}, random);
}

const SyntheticTake& low_fourth() {
  static const SyntheticTake take = take_of_flute([](int midi) { return midi == g5 ? -8.0 : 0.0; });
  return take;
}

const SyntheticTake& wide_octaves() {
  static const SyntheticTake take = take_of_flute([](int midi) { return 4.0 * (midi - lowest) / 12.0; });
  return take;
}

Instrument whistle() { return builtin_instrument(Kind::whistle, lowest); }

Instrument whistle_with_low_fourth() {
  Instrument instrument = whistle();
  std::ranges::find(instrument.scale, NoteId{g5}, &ScaleNote::id)->target_cents = -8.0;
  return instrument;
}

Measurement measured_as(const SyntheticTake& take, const Instrument& instrument, double a4_hz = 440.0) {
  MeasureSettings settings;
  settings.instrument.instrument = instrument;
  settings.tuning.a4_hz = a4_hz;
  settings.head.out_mm = 5.0;
  settings.blows.is_warm = true;
  return measured(take.samples, take.rate_hz, settings);
}

std::size_t index_of(int midi, const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  return static_cast<std::size_t>(std::ranges::find(notes, NoteId{midi}, &NoteBreath::id) - notes.begin());
}

VerdictResult verdict_on_g5(const Measurement& measurement) {
  const Verdict verdict = judge(measurement, {.tolerance_cents = 4});
  for (const Judged& each : verdict.judged)
    if (each.criterion == Criterion::note && each.note == NoteId{g5}) return each.result;
  return VerdictResult::not_measured;
}

TEST(MakersTarget, OfANoteIsWhatItIsMeasuredAndJudgedAgainst) {
  const Measurement plain = measured_as(low_fourth(), whistle());
  const Measurement meant = measured_as(low_fourth(), whistle_with_low_fourth());
  const std::size_t g = index_of(g5, meant);
  EXPECT_NEAR(meant.breath.notes[g].target_hz, 440.0 * std::exp2((g5 - 69 - 0.08) / 12.0), 1e-9);
  EXPECT_NEAR(meant.breath.notes[g].moderate.cents - plain.breath.notes[g].moderate.cents, 8.0, 1e-6);
  EXPECT_NEAR(meant.compromise->notes[g].cents, 0.0, 1.0);
  EXPECT_LT(plain.compromise->notes[g].cents, -6.0);
  EXPECT_EQ(verdict_on_g5(plain), VerdictResult::fail);
  EXPECT_EQ(verdict_on_g5(meant), VerdictResult::pass);
  EXPECT_EQ(judge(meant, {.tolerance_cents = 4}).result, VerdictResult::pass);
  for (std::size_t i = 0; i < meant.breath.notes.size(); ++i)
    EXPECT_EQ(meant.breath.notes[i].target_hz == plain.breath.notes[i].target_hz, i != g);
}

TEST(MakersTarget, ChangesNoNameAndNoSpread) {
  Instrument far = whistle();
  for (ScaleNote& note : far.scale) note.target_cents = note.id.midi % 2 == 0 ? 60.0 : -60.0;
  const Measurement plain = measured_as(low_fourth(), whistle());
  const Measurement meant = measured_as(low_fourth(), far);
  EXPECT_EQ(test::midi_of_holds(meant), test::midi_of_holds(plain));
  for (std::size_t i = 0; i < plain.breath.notes.size(); ++i)
    EXPECT_NEAR(meant.breath.notes[i].spread->cents, plain.breath.notes[i].spread->cents, 1e-6);
}

TEST(MakersTarget, HoldsAgainstAnotherPitchToo) {
  const Measurement anew = measured_as(low_fourth(), whistle_with_low_fourth(), 442.0);
  const Measurement first = measured_as(low_fourth(), whistle_with_low_fourth());
  MeasureSettings settings = first.settings;
  settings.tuning.a4_hz = 442.0;
  const Measurement again = retargeted(first, settings);
  for (std::size_t i = 0; i < anew.breath.notes.size(); ++i) {
    EXPECT_NEAR(again.breath.notes[i].target_hz, anew.breath.notes[i].target_hz, 1e-9);
    EXPECT_NEAR(again.breath.notes[i].moderate.cents, anew.breath.notes[i].moderate.cents, 1e-6);
  }
  EXPECT_NEAR(again.compromise->slide_mm, anew.compromise->slide_mm, 0.01);
}

TEST(Stretch, OfAFluteWhoseOctavesAreMeantSoWideReadsNothing) {
  Instrument stretched = whistle();
  stretched.stretch_cents_per_octave = 4.0;
  const Verdict plain = judge(measured_as(wide_octaves(), whistle()), {.max_octave_cents = 2});
  const Verdict meant = judge(measured_as(wide_octaves(), stretched), {.max_octave_cents = 2});
  EXPECT_NEAR(plain.octave->cents, 4.0, plain.octave->u95_cents + 0.1);
  EXPECT_NEAR(meant.octave->cents, 0.0, meant.octave->u95_cents + 0.1);
  EXPECT_EQ(plain.result, VerdictResult::fail);
  EXPECT_EQ(meant.result, VerdictResult::pass);
}

}  // namespace
}  // namespace windway
