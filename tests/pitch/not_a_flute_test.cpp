// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "pitch/pitch_track.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double clear = 0.35;  // share of the power: held notes show 0.7 and more

/// Share of the frames that hold a clear tone.
double clear_share(const PitchTrack& track) {
  double count = 0.0;
  for (const PitchFrame& frame : track.frames) count += frame.tone && frame.tone->clarity >= clear;
  return count / static_cast<double>(track.frames.size());
}

void expect_finite(const PitchTrack& track) {
  for (const PitchFrame& frame : track.frames) {
    EXPECT_TRUE(std::isfinite(frame.power_db) && std::isfinite(frame.noise_db));
    if (!frame.tone) continue;
    EXPECT_TRUE(std::isfinite(frame.tone->f0_hz) && std::isfinite(frame.tone->clarity));
    for (std::size_t h = 0; h < frame.tone->amplitude.size(); ++h) {
      EXPECT_TRUE(std::isfinite(frame.tone->amplitude[h]) && std::isfinite(frame.tone->phase_rad[h]));
    }
  }
}

TEST(PitchTrack, SilenceHasNoToneAndFiniteLevels) {
  const PitchTrack track = track_pitch(silence(tone_rate_hz, 1.0), tone_rate_hz, {});
  for (const PitchFrame& frame : track.frames) {
    EXPECT_FALSE(frame.tone);
    EXPECT_LE(frame.power_db, -130.0F);
  }
  expect_finite(track);
}

TEST(PitchTrack, AConstantHasNoTone) {
  const PitchTrack track = track_pitch(std::vector<float>(24000, 0.5F), tone_rate_hz, {});
  for (const PitchFrame& frame : track.frames) EXPECT_FALSE(frame.tone);
  expect_finite(track);
}

TEST(PitchTrack, AConstantUnderAToneMovesItByNothing) {
  std::vector<float> samples = steady_tone({.rate_hz = tone_rate_hz, .duration_s = 0.5});
  for (float& x : samples) x += 0.5F;
  const PitchTrack track = track_pitch(samples, tone_rate_hz, {});
  for (const PitchFrame& frame : track.frames) {
    EXPECT_NEAR(cents_between(587.3295, static_cast<double>(frame.tone.value().f0_hz)), 0.0, 0.5);
  }
}

TEST(PitchTrack, AFullScaleSquareWaveAndASingleClickAreSurvived) {
  std::vector<float> samples(24000, 0.0F);
  samples[9000] = 1.0F;
  for (std::size_t i = 12000; i < samples.size(); ++i) samples[i] = (i / 20) % 2 == 0 ? 1.0F : -1.0F;  // 600 Hz
  expect_finite(track_pitch(samples, tone_rate_hz, {}));
}

TEST(PitchTrack, WhiteNoiseGivesNoClearTone) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    Random random(seed);
    const PitchTrack track = track_pitch(to_float(white_noise(240000, 0.1, random)), tone_rate_hz, {});
    EXPECT_EQ(clear_share(track), 0.0) << "seed " << seed;
    expect_finite(track);
  }
}

TEST(PitchTrack, BreathAloneGivesNoClearTone) {
  Random random(8);
  const PitchTrack track = track_pitch(to_float(breath_noise(240000, tone_rate_hz, random)), tone_rate_hz, {});
  EXPECT_EQ(clear_share(track), 0.0);
}

/// A voice held on one pitch: a pulse's harmonics, those near two formants stronger.
std::vector<float> held_voice(double f0_hz) {
  std::vector<double> amplitudes;
  for (int k = 1; k * f0_hz < 5000.0; ++k) {
    const double hz = k * f0_hz;
    const double formants =
        std::exp(-std::pow((hz - 600.0) / 200.0, 2)) + 0.5 * std::exp(-std::pow((hz - 1700.0) / 300.0, 2));
    amplitudes.push_back(0.05 * (0.1 + formants) / std::sqrt(k));
  }
  return steady_tone({.rate_hz = tone_rate_hz, .duration_s = 1.0, .f0_hz = f0_hz, .harmonic_amplitudes = amplitudes});
}

TEST(PitchTrack, AVoiceBelowTheRangeIsNoFlute) {
  for (const double f0_hz : {90.0, 110.0, 130.0, 145.0}) {
    EXPECT_EQ(clear_share(track_pitch(held_voice(f0_hz), tone_rate_hz, {})), 0.0) << f0_hz;
  }
}

TEST(PitchTrack, MainsHumIsNoFlute) {
  const auto hum = steady_tone({.rate_hz = tone_rate_hz,
                                .duration_s = 1.0,
                                .f0_hz = 50.0,
                                .harmonic_amplitudes = {0.1, 0.0, 0.03, 0.0, 0.02, 0.0, 0.014}});
  EXPECT_EQ(clear_share(track_pitch(hum, tone_rate_hz, {})), 0.0);
}

}  // namespace
}  // namespace windway
