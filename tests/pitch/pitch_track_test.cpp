// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/pitch_track.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/noise.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

/// The frame that is farthest off, in cents; frames without a tone count as an octave.
double worst_cents(const PitchTrack& track, double f0_hz) {
  double worst = 0.0;
  for (const PitchFrame& frame : track.frames) {
    const double off = frame.tone ? cents_between(f0_hz, static_cast<double>(frame.tone->f0_hz)) : 1200.0;
    worst = std::max(worst, std::abs(off));
  }
  return track.frames.empty() ? INFINITY : worst;
}

/// From the low G of the lowest whistles' range to the top of a sopranino recorder.
const std::vector<double> pitches_hz = {196.0, 293.66, 415.3, 587.33, 783.99, 1046.5, 1479.98, 1975.53, 2637.0, 3500.0};
/// A telephone's, and what 44.1, 48 and 16, 22.05 kHz come down to or stay at.
const std::vector<double> rates_hz = {8000.0, 14700.0, 16000.0, 22050.0};

class PitchTrackAtRate : public testing::TestWithParam<double> {};

TEST_P(PitchTrackAtRate, FollowsASteadyToneInEveryFrame) {
  for (const double f0_hz : pitches_hz) {
    const auto samples = steady_tone({.rate_hz = GetParam(), .duration_s = 0.5, .f0_hz = f0_hz});
    const PitchTrack track = track_pitch(samples, GetParam(), {});
    EXPECT_LT(worst_cents(track, f0_hz), 0.5) << f0_hz;
    for (const PitchFrame& frame : track.frames) EXPECT_GT(frame.tone->clarity, 0.97) << f0_hz;
  }
}

TEST_P(PitchTrackAtRate, FindsAFundamentalTwelveDecibelsWeakerThanItsHarmonics) {
  Random random(11);
  for (const double f0_hz : pitches_hz) {
    if (3.0 * f0_hz > 0.45 * GetParam()) continue;  // its harmonics are not in the band
    auto samples = steady_tone(
        {.rate_hz = GetParam(), .duration_s = 0.5, .f0_hz = f0_hz, .harmonic_amplitudes = {0.075, 0.3, 0.3, 0.05}});
    add_white_noise(samples, 30.0, random);
    EXPECT_LT(worst_cents(track_pitch(samples, GetParam(), {}), f0_hz), 10.0) << f0_hz;
  }
}

INSTANTIATE_TEST_SUITE_P(Rates, PitchTrackAtRate, testing::ValuesIn(rates_hz),
                         [](const auto& rate) { return std::to_string(std::lround(rate.param)) + "Hz"; });

TEST(PitchTrack, GivesTheAmplitudeAndThePhaseOfEveryHarmonic) {
  const std::vector<double> amplitudes = {0.3, 0.2, 0.1, 0.05, 0.02};
  const ToneSpec spec{.rate_hz = 24000.0, .duration_s = 0.5, .f0_hz = 1000.0, .harmonic_amplitudes = amplitudes};
  const PitchTrack track = track_pitch(steady_tone(spec), spec.rate_hz, {});
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const Tone& tone = track.frames[i].tone.value();
    for (std::size_t h = 0; h < amplitudes.size(); ++h) {
      EXPECT_NEAR(tone.amplitude[h], amplitudes[h], 0.01 * amplitudes[h]);
      // A sine; the phase counts from a cosine.
      const double cycles = static_cast<double>(h + 1) * (spec.start_cycles + spec.f0_hz * track.time_s(i)) - 0.25;
      EXPECT_NEAR(std::remainder(tone.phase_rad[h] - 2.0 * std::numbers::pi * cycles, 2.0 * std::numbers::pi), 0.0,
                  0.02)
          << "frame " << i << " harmonic " << h + 1;
    }
  }
}

TEST(PitchTrack, FollowsAGlideAtTheMiddleOfEachFrame) {
  const ToneSpec spec{.rate_hz = 24000.0, .duration_s = 2.0, .f0_hz = 700.0};
  const PitchTrack track = track_pitch(glide_tone(spec, 120.0), spec.rate_hz, {});
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const double true_cents = 120.0 * track.time_s(i) / spec.duration_s;
    EXPECT_NEAR(cents_between(spec.f0_hz, static_cast<double>(track.frames[i].tone.value().f0_hz)), true_cents, 0.5);
  }
}

/// What an overblown note carries beside its own sound: breath noise that rings at half and one and a half times the
/// pitch. `ring_db` is the ringing's power against the tone's.
std::vector<float> overblown_tone(double f0_hz, double ring_db, Random& random) {
  const ToneSpec spec{.duration_s = 2.0, .f0_hz = f0_hz, .harmonic_amplitudes = {0.3, 0.05, 0.02}};
  std::vector<float> samples = steady_tone(spec);
  const double tone_power = 0.5 * (0.3 * 0.3 + 0.05 * 0.05 + 0.02 * 0.02);
  const auto swing = slow_wander(samples.size(), spec.rate_hz, 0.02, 1.0, random);
  const double gain = std::sqrt(tone_power * power_from_db(ring_db));  // two sines of unit variance swing
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double half_turn_rad = std::numbers::pi * f0_hz * static_cast<double>(i) / spec.rate_hz;
    samples[i] += static_cast<float>(gain * swing[i] * (std::sin(half_turn_rad) + std::sin(3.0 * half_turn_rad + 1.0)));
  }
  return samples;
}

TEST(PitchTrack, NoiseAtHalfThePitchIsNotItsFundamental) {
  Random random(5);
  for (const double f0_hz : {1174.66, 1479.98, 1975.53, 2349.32}) {
    const PitchTrack track = track_pitch(overblown_tone(f0_hz, -14.0, random), 24000.0, {});
    EXPECT_LT(worst_cents(track, f0_hz), 30.0) << f0_hz;
  }
}

TEST(PitchTrack, BreathNoiseIsItsPowerDensityNotTheTones) {
  Random random(6);
  const double sd = 0.01;
  std::vector<float> samples = steady_tone({.rate_hz = 24000.0, .duration_s = 2.0});
  for (float& x : samples) x += static_cast<float>(random.normal(0.0, sd));
  const double density_db = db_from_power(sd * sd / 12000.0);
  double sum_db = 0.0;
  const PitchTrack track = track_pitch(samples, 24000.0, {});
  for (const PitchFrame& frame : track.frames) sum_db += frame.noise_db;
  EXPECT_NEAR(sum_db / static_cast<double>(track.frames.size()), density_db, 0.5);
}

TEST(PitchTrack, IsTheSameSixtyDecibelsSofter) {
  const ToneSpec spec{.rate_hz = 24000.0, .duration_s = 0.5};
  std::vector<float> samples = steady_tone(spec);
  const PitchTrack loud = track_pitch(samples, spec.rate_hz, {});
  for (float& x : samples) x *= 0.001F;
  const PitchTrack quiet = track_pitch(samples, spec.rate_hz, {});
  ASSERT_EQ(loud.frames.size(), quiet.frames.size());
  for (std::size_t i = 0; i < loud.frames.size(); ++i) {
    EXPECT_NEAR(cents_between(static_cast<double>(loud.frames[i].tone.value().f0_hz),
                              static_cast<double>(quiet.frames[i].tone.value().f0_hz)),
                0.0, 0.01);
    EXPECT_NEAR(loud.frames[i].power_db - quiet.frames[i].power_db, 60.0, 0.01);
  }
}

TEST(PitchTrack, AToneOutsideTheRangeIsNone) {
  const auto samples = steady_tone({.rate_hz = 24000.0, .duration_s = 0.5, .f0_hz = 587.33});
  for (const PitchFrame& f : track_pitch(samples, 24000.0, {.min_hz = 700.0}).frames) EXPECT_FALSE(f.tone);
  for (const PitchFrame& f : track_pitch(samples, 24000.0, {.max_hz = 500.0}).frames) EXPECT_FALSE(f.tone);
}

TEST(PitchTrack, FramesStandAtTheHopFromTheFirstWindowsMiddle) {
  const PitchTrack track = track_pitch(silence(24000.0, 1.0), 24000.0, {});
  EXPECT_DOUBLE_EQ(track.hop_s, 0.01);
  EXPECT_DOUBLE_EQ(track.window_s, 0.048);
  EXPECT_DOUBLE_EQ(track.first_s, 0.024);
  EXPECT_EQ(track.frames.size(), 96U);  // 1 + floor((1 - 0.048) / 0.01)
}

TEST(PitchTrack, OneWindowIsOneFrameAndLessIsNone) {
  const std::vector<float> samples = steady_tone({.rate_hz = 24000.0, .duration_s = 0.1});
  const std::span<const float> all(samples);
  const PitchTrack one = track_pitch(all.first(1152), 24000.0, {});
  ASSERT_EQ(one.frames.size(), 1U);
  EXPECT_NEAR(cents_between(587.3295, static_cast<double>(one.frames[0].tone.value().f0_hz)), 0.0, 0.5);
  EXPECT_TRUE(track_pitch(all.first(1151), 24000.0, {}).frames.empty());
  EXPECT_TRUE(track_pitch(all.first(0), 24000.0, {}).frames.empty());
}

}  // namespace
}  // namespace windway
