// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked of the targets, the air and the weights, through the whole job.
#include <gtest/gtest.h>

#include <cmath>

#include "measured_take.hpp"
#include "support/plan.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;
using test::steps_take;

const SyntheticTake& take() {
  static const SyntheticTake take = steps_take(major_scale(74, 12), 42).sound;
  return take;
}

Measurement measured_so(const MeasureSettings& settings) { return measured(take().samples, take().rate_hz, settings); }

const Measurement& plain() {
  static const Measurement measurement = measured_so(test::whistle_in_d());
  return measurement;
}

TEST(PitchThatDrifted, WidensTheMoveToWhatTheNotesAskedForAtTheStart) {
  constexpr double fall_cents = 12.0;
  Measurement fell = plain();
  fell.breath.drift = Drift{-fall_cents, 0.5, 30.0};
  fell.warnings.push_back({WarningCode::pitch_drifted, ""});
  Measurement at_start = plain();
  for (NoteBreath& note : at_start.breath.notes) note = shifted(std::move(note), fall_cents);
  const double away_mm = retargeted(at_start, at_start.settings).compromise->slide_mm - plain().compromise->slide_mm;
  ASSERT_GT(away_mm, 1.0);
  EXPECT_NEAR(retargeted(fell, fell.settings).compromise->slide_u95_mm, plain().compromise->slide_u95_mm + away_mm,
              1e-6);
}

TEST(Temperament, MovesEveryTargetByItsPlaceAndNothingElse) {
  MeasureSettings settings = test::whistle_in_d();
  settings.tuning.temperament.name = TemperamentName::just;
  const Measurement just = measured_so(settings);
  EXPECT_EQ(just.settings.tuning.temperament.key_pitch_class, 2);  // the whistle's own D
  ASSERT_EQ(just.breath.notes.size(), plain().breath.notes.size());
  for (std::size_t i = 0; i < just.breath.notes.size(); ++i) {
    const int midi = just.breath.notes[i].id.midi;
    EXPECT_NEAR(plain().breath.notes[i].moderate.cents - just.breath.notes[i].moderate.cents,
                cents_from_equal(midi, just.settings.tuning.temperament), 1e-6)
        << midi;
    if (midi == 78) {
      // A fifth above D is A, which keeps 440 Hz: the third, a syntonic comma less than two tones, lies 15.6 cents low.
      EXPECT_NEAR(cents_from_equal(midi, just.settings.tuning.temperament), 386.3137 - 701.9550 - 400.0 + 700.0, 1e-3);
    }
  }
}

TEST(QuoteAt, MovesEveryNoteByTheSpeedOfSound) {
  MeasureSettings settings = test::whistle_in_d();
  settings.quote_at_c = 20.0;
  const Measurement cool = measured_so(settings);
  // Cramer 1993, dry air: 343.3672 m/s at 20, 346.2755 m/s at 25 degrees C.
  const double change_cents = 1200.0 * std::log2(343.3672 / 346.2755);
  for (std::size_t i = 0; i < cool.breath.notes.size(); ++i) {
    const NoteBreath& note = cool.breath.notes[i];
    EXPECT_NEAR(note.moderate.cents - plain().breath.notes[i].moderate.cents, change_cents, 0.01);
    EXPECT_EQ(note.spread.has_value(), plain().breath.notes[i].spread.has_value());
    // The air column is as long as it was.
    EXPECT_NEAR(cool.compromise->notes[i].effective_length_mm, plain().compromise->notes[i].effective_length_mm, 1e-6);
  }
  EXPECT_EQ(cool.naming.holds[0].deviation_cents, plain().naming.holds[0].deviation_cents);
  EXPECT_LT(cool.compromise->slide_mm, plain().compromise->slide_mm - 1.5);
}

TEST(Weights, OfTheMusicDecideTheCompromise) {
  MeasureSettings settings = test::whistle_in_d();
  settings.weights = {{81, 1.0}};  // all the music is one A
  const Measurement weighted = measured_so(settings);
  for (std::size_t i = 0; i < weighted.breath.notes.size(); ++i) {
    if (weighted.breath.notes[i].id.midi == 81) {
      EXPECT_NEAR(weighted.compromise->notes[i].cents, 0.0, 1e-6);
    }
  }
}

TEST(Partner, WhosePitchIsDoubtfulMakesTheSlideSo) {
  MeasureSettings settings = test::whistle_in_d();
  settings.a4_u95_hz = 0.5;  // 2 cents
  const Measurement doubtful = measured_so(settings);
  EXPECT_NEAR(doubtful.compromise->shift_u95_cents, std::hypot(plain().compromise->shift_u95_cents, 1.966), 0.01);
  EXPECT_EQ(doubtful.compromise->slide_mm, plain().compromise->slide_mm);
}

}  // namespace
}  // namespace windway
