// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>

#include "support/noise.hpp"
#include "support/played_takes.hpp"
#include "support/take_draw.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double rate_hz = 24000.0;

/// A blow's tone alone and its breath noise alone: the same blow twice, once without noise.
struct Parts {
  std::vector<double> tone, noise;
};

Parts parts_of(FluteModel flute, const Blowing& blowing) {
  Playing still;
  still.breath_wander_doublings = still.pitch_wander_cents = still.sag_doublings = 0.0;
  still.scoop_cents = still.fall_cents = 0.0;
  for (NoteModel& note : flute.notes) note.tilt_db = 0.0;
  flute.ring = 0.0;
  Random with(3), without(3);
  Parts parts;
  parts.noise = render_blow(flute, blowing, still, {.rate_hz = rate_hz}, with).samples;
  flute.breath_db = 400.0;
  parts.tone = render_blow(flute, blowing, still, {.rate_hz = rate_hz}, without).samples;
  for (std::size_t i = 0; i < parts.tone.size(); ++i) parts.noise[i] -= parts.tone[i];
  return parts;
}

/// Level every 20 ms, dB, the first and the last fifth left out.
std::vector<double> levels_db(const std::vector<double>& samples) {
  const auto step = static_cast<std::size_t>(0.02 * rate_hz);
  std::vector<double> out;
  for (std::size_t i = samples.size() / 5; i + step < 4 * samples.size() / 5; i += step) {
    const auto from = samples.begin() + static_cast<std::ptrdiff_t>(i);
    out.push_back(db_from_amplitude(rms({from, from + static_cast<std::ptrdiff_t>(step)})));
  }
  return out;
}

/// Amplitude of the swing of the levels at `hz`.
double swing_db(const std::vector<double>& levels, double hz) {
  const double mean = std::accumulate(levels.begin(), levels.end(), 0.0) / static_cast<double>(levels.size());
  std::complex<double> sum;
  for (std::size_t i = 0; i < levels.size(); ++i)
    sum += (levels[i] - mean) * std::polar(1.0, -2.0 * std::numbers::pi * hz * 0.02 * static_cast<double>(i));
  return 2.0 * std::abs(sum) / static_cast<double>(levels.size());
}

FluteModel flute_of_power(double breath_power) {
  Random random(1);
  FluteModel flute = draw_flute({}, random);
  flute.breath_power = breath_power;
  return flute;
}

Blowing long_blow(BreathMotion motion) {
  Blowing blowing;
  blowing.midi = 79;
  blowing.duration_s = 5.0;  // the middle three fifths: whole periods of 5 Hz
  blowing.motion = motion;
  return blowing;
}

TEST(BreathMotion, TremoloSwingsTheLevelAndTheNoiseAsMuchFarther) {
  const Parts parts = parts_of(flute_of_power(2.5), long_blow({.tremolo_db = 2.0, .tremolo_hz = 5.0}));
  EXPECT_NEAR(swing_db(levels_db(parts.tone), 5.0), 2.0, 0.1);
  EXPECT_NEAR(swing_db(levels_db(parts.noise), 5.0), 5.0, 0.4);
}

TEST(BreathMotion, DiminuendoFallsAsAsked) {
  const auto levels = levels_db(parts_of(flute_of_power(2.0), long_blow({.fall_db_per_s = 3.0})).tone);
  const double length_s = 0.02 * static_cast<double>(levels.size() - 1);
  EXPECT_NEAR((levels.front() - levels.back()) / length_s, 3.0, 0.05);
}

TEST(BreathMotion, APitchCurveThatBendsHasAnotherMeanUnderTremolo) {
  const FluteModel flute = flute_of_power(2.0);
  const Blowing still = long_blow({});
  const Blowing moving = long_blow({.tremolo_db = 3.0, .tremolo_hz = 5.0});
  const NoteModel& note = note_of(flute, still.midi);
  EXPECT_NEAR(meant_cents(flute, still, {0.5, 4.5}), cents_at(note, 0.0), 1e-9);
  // E exp(-b s) of a sine s of amplitude a is the modified Bessel function I0(a b).
  const double argument = note.bend * 3.0 / flute.db_per_doubling;
  const double expected =
      note.error_cents - note.cents_per_doubling * (std::cyl_bessel_i(0.0, argument) - 1.0) / note.bend;
  EXPECT_NEAR(meant_cents(flute, moving, {0.5, 4.5}), expected, 1e-3);
}

TEST(BreathMotion, ASwellThereAndBackIsHardInTheMiddleAndSoftAtBothEnds) {
  Blowing blowing = long_blow({});
  blowing.from_doublings = -1.0;
  blowing.to_doublings = 1.0;
  blowing.and_back = true;
  const FluteModel flute = flute_of_power(2.0);
  EXPECT_DOUBLE_EQ(meant_doublings(flute, blowing, 0.1), -1.0);
  EXPECT_DOUBLE_EQ(meant_doublings(flute, blowing, 2.5), 1.0);
  EXPECT_DOUBLE_EQ(meant_doublings(flute, blowing, 4.9), -1.0);
  EXPECT_NEAR(meant_doublings(flute, blowing, 1.25), 0.0, 1e-9);
}

TEST(LoudNoise, LiesSixDecibelsUnderTheTone) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    Random random(seed);
    FluteModel flute = draw_flute_of(TakeKind::loud_noise, random);
    make_flute_of(TakeKind::loud_noise, flute, random);
    Blowing blowing = long_blow({});
    blowing.midi = flute.notes.front().midi + 5;
    const Parts parts = parts_of(flute, blowing);
    EXPECT_NEAR(db_from_amplitude(rms(parts.tone) / rms(parts.noise)), 6.0, 2.0) << "seed " << seed;
  }
}

}  // namespace
}  // namespace windway::synthesis
