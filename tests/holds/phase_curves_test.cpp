// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/phase_curves.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "support/tones.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double note_hz = 600.3;

PhaseCurves curves_of(const std::vector<double>& amplitudes, double snr_db, double reference_hz) {
  Random random(6);
  auto samples = steady_tone({.rate_hz = tone_rate_hz, .f0_hz = note_hz, .harmonic_amplitudes = amplitudes});
  add_white_noise(samples, snr_db, random);
  const PitchTrack track = track_pitch(samples, tone_rate_hz, {});
  return phase_curves(track, {0, track.frames.size() - 1}, reference_hz);
}

std::optional<PhaseCurves::Harmonic> harmonic(const PhaseCurves& curves, int number) {
  const auto found = std::find_if(curves.harmonics.begin(), curves.harmonics.end(),
                                  [number](const auto& h) { return h.number == number; });
  return found == curves.harmonics.end() ? std::nullopt : std::optional(*found);
}

TEST(PhaseCurves, EveryClearHarmonicTellsTheFundamentalsPhase) {
  const PhaseCurves curves = curves_of({0.4, 0.2, 0.1}, 30.0, 600.0);
  ASSERT_EQ(curves.harmonics.size(), 3U);
  const double gain_rad = 2.0 * 3.14159265358979 * 0.3 * static_cast<double>(curves.frames - 1) * curves.hop_s;
  for (const auto& h : curves.harmonics) {
    EXPECT_NEAR(h.phase_rad.back() - h.phase_rad.front(), gain_rad, 5.0 * std::sqrt(2.0 * h.variance_rad2) / h.number);
  }
}

TEST(PhaseCurves, AFaintHarmonicIsFollowedByWhatTheClearOnesForetell) {
  // The second lies some 6 dB over the noise in a frame's bin: by itself it would slip a turn now and then.
  const PhaseCurves curves = curves_of({0.4, 0.03}, 0.0, 600.0);
  const auto faint = harmonic(curves, 2);
  ASSERT_TRUE(faint);
  const auto clear = harmonic(curves, 1);
  double drift_rad = 0;  // of the second against the first, from the first 20 frames to the last 20
  for (std::size_t i = 0; i < 20; ++i) {
    const std::size_t last = curves.frames - 1 - i;
    drift_rad += 2.0 * (faint->phase_rad[last] - clear->phase_rad[last]) / 20.0;
    drift_rad -= 2.0 * (faint->phase_rad[i] - clear->phase_rad[i]) / 20.0;
  }
  EXPECT_NEAR(drift_rad, 0.0, 0.5);  // a turn slipped would leave 6.3
  EXPECT_GT(faint->variance_rad2, 0.02);
}

TEST(PhaseCurves, NoiseInAHarmonicsPlaceIsNone) {
  const PhaseCurves curves = curves_of({0.4}, 10.0, 600.0);
  ASSERT_EQ(curves.harmonics.size(), 1U);
  EXPECT_EQ(curves.harmonics[0].number, 1);
}

}  // namespace
}  // namespace windway
