// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>

#include "support/noise.hpp"
#include "support/take.hpp"
#include "support/tones.hpp"
#include "support/truth.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

/// The tone's phase about `at_s`, against a steady `hz`: a Hann-weighted sum over 40 ms.
double phase_rad(const SyntheticTake& take, double at_s, double hz) {
  const auto half = static_cast<std::size_t>(0.02 * take.rate_hz);
  const std::size_t first = static_cast<std::size_t>(at_s * take.rate_hz) - half;
  std::complex<double> sum;
  for (std::size_t k = 0; k <= 2 * half; ++k) {
    const double weight = 1.0 - std::cos(std::numbers::pi * static_cast<double>(k) / static_cast<double>(half));
    const double turn_rad = full_turn_rad * hz * static_cast<double>(first + k) / take.rate_hz;
    sum += weight * static_cast<double>(take.samples[first + k]) * std::polar(1.0, -turn_rad);
  }
  return std::arg(sum);
}

/// Mean of the pitch in cents from one time to another by the phase alone, in steps too short for it to lose count.
/// Of cents, not of hertz: over a swell the two means are 0.1 cent apart.
double heard_cents(const SyntheticTake& take, double from_s, double to_s, double hz) {
  double sum_cents = 0.0;
  const int steps = 50;
  const double step_s = (to_s - from_s) / steps;
  for (int i = 0; i < steps; ++i) {
    // whole samples, as phase_rad takes them
    const double a_s = std::floor((from_s + step_s * i) * take.rate_hz) / take.rate_hz;
    const double b_s = std::floor((from_s + step_s * (i + 1)) * take.rate_hz) / take.rate_hz;
    const double nudge_s = 0.1 / take.rate_hz;  // so that rounding cannot lose a sample
    const double turned_rad =
        std::remainder(phase_rad(take, b_s + nudge_s, hz) - phase_rad(take, a_s + nudge_s, hz), full_turn_rad);
    sum_cents += cents_between(hz, hz + turned_rad / full_turn_rad / (b_s - a_s));
  }
  return sum_cents / steps;
}

SyntheticTake three_blows(std::uint64_t seed) {
  Random random(seed);
  const FluteModel flute = draw_flute({}, random);
  const auto plan = note_by_note({74, 83, 86}, {Blow::soft, Blow::hard, Blow::swell}, {}, {}, random);
  return synthesise_take(flute, plan, {}, random);
}

TEST(SyntheticTake, TruePitchIsTheRateOfThePhaseThatSounds) {
  const SyntheticTake take = three_blows(7);
  ASSERT_EQ(take.holds.size(), 9U);
  for (const TrueHold& hold : take.holds) {
    const double from_s = hold.start_s + hold.attack_s + 0.03;
    const double to_s = hold.end_s - hold.release_s - 0.03;
    const double target = 440.0 * std::exp2((hold.midi - 69) / 12.0);
    EXPECT_NEAR(heard_cents(take, from_s, to_s, target), mean_cents(hold, from_s, to_s).value(), 0.03) << hold.midi;
  }
}

TEST(SyntheticTake, IsTheSameForTheSameSeedAndAnotherForAnother) {
  EXPECT_EQ(three_blows(7).samples, three_blows(7).samples);
  EXPECT_NE(three_blows(7).samples, three_blows(8).samples);
}

TEST(SyntheticTake, HoldsStandWhereTheSoundIsAndSilenceBetween) {
  const SyntheticTake take = three_blows(7);
  const auto power_at = [&](double from_s, double to_s) {
    double sum = 0.0;
    const auto first = static_cast<std::size_t>(from_s * take.rate_hz);
    const auto last = static_cast<std::size_t>(to_s * take.rate_hz);
    for (std::size_t i = first; i < last; ++i) sum += static_cast<double>(take.samples[i]) * take.samples[i];
    return sum / static_cast<double>(last - first);
  };
  for (std::size_t i = 0; i + 1 < take.holds.size(); ++i) {
    const TrueHold& hold = take.holds[i];
    const double tone = power_at(hold.start_s + hold.attack_s, hold.end_s - hold.release_s);
    const double gap = power_at(hold.end_s, take.holds[i + 1].start_s);
    EXPECT_GT(db_from_power(tone / gap), 30.0);
  }
}

TEST(SyntheticTake, HarderIsSharperOnEveryNoteOfEveryFlute) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    Random random(seed);
    for (const NoteModel& note : draw_flute({Kind::recorder, 65}, random).notes) {
      for (double strength = -2.0; strength < 2.0; strength += 0.25) {
        EXPECT_LT(cents_at(note, strength), cents_at(note, strength + 0.25));
      }
    }
  }
}

TEST(Random, NormalNumbersHaveMeanZeroAndDeviationOne) {
  Random random(3);
  const auto numbers = white_noise(200000, 1.0, random);
  double sum = 0.0;
  for (const double x : numbers) sum += x;
  EXPECT_NEAR(sum / 200000.0, 0.0, 0.01);  // 4.5 standard errors
  EXPECT_NEAR(rms(numbers), 1.0, 0.008);   // 5 standard errors
}

// The engine is fixed by the C++ standard: its 10000th number is in [rand.predef].
TEST(Random, EngineIsTheOneTheStandardFixes) {
  std::mt19937_64 engine;
  engine.discard(9999);
  EXPECT_EQ(engine(), 9981545732273789042ULL);
}

TEST(WhiteNoise, LiesAsFarUnderTheToneAsAsked) {
  Random random(5);
  const ToneSpec spec;
  const auto clean = steady_tone(spec);
  auto noisy = clean;
  add_white_noise(noisy, 20.0, random);
  std::vector<double> noise, tone;
  for (std::size_t i = 0; i < clean.size(); ++i) {
    noise.push_back(noisy[i] - clean[i]);
    tone.push_back(clean[i]);
  }
  EXPECT_NEAR(db_from_amplitude(rms(tone) / rms(noise)), 20.0, 0.2);
}

}  // namespace
}  // namespace windway::synthesis
