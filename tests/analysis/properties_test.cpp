// SPDX-License-Identifier: GPL-3.0-or-later
// What must not change the answer, and what must change it by just so much.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "measured_take.hpp"
#include "support/noise.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;
using test::measured_together;
using test::steps_take;

const std::vector<int> octave = major_scale(74, 12);

const SyntheticTake& plain_take() {
  static const SyntheticTake take = steps_take(octave, 42).sound;
  return take;
}

const Measurement& plain_measurement() {
  static const Measurement measurement = measured(plain_take().samples, plain_take().rate_hz);
  return measurement;
}

void expect_same_estimate(const std::optional<CentsEstimate>& a, const std::optional<CentsEstimate>& b,
                          double off_cents, double within_cents) {
  ASSERT_EQ(a.has_value(), b.has_value());
  if (a && b) {
    EXPECT_NEAR(b->cents - a->cents, off_cents, within_cents);
  }
}

/// Every note of `other` lies `off_cents` above that of `one`, its spread the same.
void expect_same_notes(const Measurement& one, const Measurement& other, double off_cents, double within_cents) {
  ASSERT_EQ(one.breath.notes.size(), other.breath.notes.size());
  for (std::size_t i = 0; i < one.breath.notes.size(); ++i) {
    const NoteBreath& a = one.breath.notes[i];
    const NoteBreath& b = other.breath.notes[i];
    SCOPED_TRACE("midi " + std::to_string(a.id.midi));
    EXPECT_EQ(a.id.midi, b.id.midi);
    EXPECT_EQ(a.holds, b.holds);
    expect_same_estimate(a.soft, b.soft, off_cents, within_cents);
    EXPECT_NEAR(b.moderate.cents - a.moderate.cents, off_cents, within_cents);
    expect_same_estimate(a.hard, b.hard, off_cents, within_cents);
    expect_same_estimate(a.spread, b.spread, 0.0, within_cents);
  }
}

TEST(Measure, TransposingByAFewCentsMovesEveryNoteByAsMuch) {
  // The same strokes of the same lungs on a flute that differs only in its pitch.
  for (const double cents : {-37.0, 23.0}) {
    Random random(42);
    FluteModel flute = draw_flute({.overall_cents = 12.0}, random);
    flute.a4_hz = hz_at_cents(440.0, cents);
    const auto plan = note_by_note(octave, {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
    const SyntheticTake moved = synthesise_take(flute, plan, {}, random);
    expect_same_notes(plain_measurement(), measured(moved.samples, moved.rate_hz), cents, 0.02);
  }
}

TEST(Measure, AnotherReferencePitchMovesEveryNoteTheOtherWay) {
  MeasureSettings settings = test::whistle_in_d();
  settings.tuning.a4_hz = 442.0;
  const Measurement against_442 = measured(plain_take().samples, plain_take().rate_hz, settings);
  expect_same_notes(plain_measurement(), against_442, -cents_between(440.0, 442.0), 1e-6);
}

TEST(Measure, AHeaderThatLiesAboutTheRateMovesEveryNoteByIt) {
  // 24000 Hz said to be 24240: every note 17.23 cents sharper; the whole job runs at another rate.
  const Measurement faster = measured(plain_take().samples, 24240.0);
  expect_same_notes(plain_measurement(), faster, cents_between(24000.0, 24240.0), 0.05);
}

TEST(Measure, GainMovesOnlyTheLevels) {
  std::vector<float> samples = plain_take().samples;
  for (float& x : samples) x *= 0.25F;
  const Measurement quiet = measured(samples, plain_take().rate_hz);
  expect_same_notes(plain_measurement(), quiet, 0.0, 1e-6);
  ASSERT_EQ(plain_measurement().naming.holds.size(), quiet.naming.holds.size());
  for (std::size_t i = 0; i < quiet.naming.holds.size(); ++i) {
    const Hold& loud_hold = plain_measurement().naming.holds[i].hold;
    const Hold& quiet_hold = quiet.naming.holds[i].hold;
    EXPECT_NEAR(loud_hold.level_db - quiet_hold.level_db, db_from_amplitude(4.0), 1e-4);
    EXPECT_NEAR(loud_hold.noise_db - quiet_hold.noise_db, db_from_amplitude(4.0), 1e-4);
    EXPECT_NEAR(loud_hold.colour_db, quiet_hold.colour_db, 1e-4);
  }
  EXPECT_NEAR(plain_measurement().compromise->slide_mm, quiet.compromise->slide_mm, 1e-6);
}

TEST(Measure, AddedSilenceChangesNothing) {
  const double rate_hz = plain_take().rate_hz;
  for (const auto& [before_s, after_s] : {std::pair{2.0, 0.0}, std::pair{0.0, 3.7}, std::pair{1.0, 1.0}}) {
    const auto longer = joined({silence(rate_hz, before_s), plain_take().samples, silence(rate_hz, after_s)});
    const Measurement found = measured(longer, rate_hz);
    expect_same_notes(plain_measurement(), found, 0.0, 1e-3);
    EXPECT_NEAR(plain_measurement().compromise->slide_mm, found.compromise->slide_mm, 1e-4);
    for (std::size_t i = 0; i < found.naming.holds.size(); ++i) {
      EXPECT_NEAR(found.naming.holds[i].hold.start_s - before_s, plain_measurement().naming.holds[i].hold.start_s,
                  1e-9);
    }
  }
}

TEST(Measure, WhereTheFramesHappenToFallMattersLittle) {
  // Silence that is no whole number of hops: all frames stand elsewhere.
  const double rate_hz = plain_take().rate_hz;
  for (const double before_s : {0.0025, 0.0071}) {
    const auto shifted = joined({silence(rate_hz, before_s), plain_take().samples});
    expect_same_notes(plain_measurement(), measured(shifted, rate_hz), 0.0, 0.05);
  }
}

TEST(Measure, TheOrderOfTakesChangesNoNote) {
  const std::vector<float> low = steps_take({74, 76, 78, 79}, 5).sound.samples;
  const std::vector<float> high = steps_take({79, 81, 83, 85, 86}, 5).sound.samples;
  const Measurement low_first = measured_together({low, high}, 24000.0);
  const Measurement high_first = measured_together({high, low}, 24000.0);
  expect_same_notes(low_first, high_first, 0.0, 1e-6);
  EXPECT_NEAR(low_first.compromise->slide_mm, high_first.compromise->slide_mm, 1e-6);
  EXPECT_EQ(low_first.naming.holds.front().hold.take, 0);
  EXPECT_EQ(low_first.naming.holds.back().hold.take, 1);
}

TEST(Measure, ATakePlayedBackwardsHasTheSameNotes) {
  std::vector<float> backwards = plain_take().samples;
  std::reverse(backwards.begin(), backwards.end());
  std::vector<int> midi = test::midi_of_holds(measured(backwards, plain_take().rate_hz));
  std::reverse(midi.begin(), midi.end());
  EXPECT_EQ(midi, test::midi_of_holds(plain_measurement()));
}

TEST(Measure, StereoWithADeadMicrophoneEqualsMono) {
  const Measurement stereo =
      measured(beside_a_dead_channel(plain_take().samples), plain_take().rate_hz, test::whistle_in_d(), 2);
  EXPECT_EQ(stereo.takes.at(0).channel_used, 1);
  expect_same_notes(plain_measurement(), stereo, 0.0, 1e-9);
}

TEST(Measure, IsTheSameEveryTime) {
  const Measurement again = measured(plain_take().samples, plain_take().rate_hz);
  expect_same_notes(plain_measurement(), again, 0.0, 0.0);
  EXPECT_EQ(plain_measurement().compromise->slide_mm, again.compromise->slide_mm);
  EXPECT_EQ(plain_measurement().compromise->slide_u95_mm, again.compromise->slide_u95_mm);
}

TEST(Measure, TalkBetweenTheNotesChangesNoName) {
  Performance performance;
  performance.talk_after_blows = 3;
  const test::PlayedTake take = steps_take(octave, 42, performance);
  EXPECT_EQ(test::midi_of_holds(measured(take.sound.samples, take.sound.rate_hz)),
            test::midi_of_holds(plain_measurement()));
}

}  // namespace
}  // namespace windway
