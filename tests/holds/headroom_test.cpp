// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/headroom.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/find_holds.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double headroom_rate_hz = 16000.0;

/// Two notes of 1 s with 0.7 s around each, and a hum `under_db` under them all the time.
PitchTrack track_with_hum(double under_db) {
  const auto note = steady_tone({.rate_hz = headroom_rate_hz, .duration_s = 1.0, .harmonic_amplitudes = {0.2}});
  const auto pause = silence(headroom_rate_hz, 0.7);
  auto take = joined({pause, note, pause, note, pause});
  const auto hum = steady_tone({.rate_hz = headroom_rate_hz,
                                .duration_s = static_cast<double>(take.size()) / headroom_rate_hz,
                                .f0_hz = 100.0,
                                .harmonic_amplitudes = {0.2 * std::pow(10.0, -under_db / 20.0)}});
  for (std::size_t i = 0; i < take.size(); ++i) take[i] += hum[i];
  return track_pitch(take, headroom_rate_hz, {});
}

PowerCurve power_of(const PitchTrack& track) {
  PowerCurve power;
  power.add(track);
  return power;
}

TEST(Headroom, IsHowFarTheSoftestHoldStandsAboveWhatSoundsBetween) {
  for (const double under_db : {6.0, 12.0, 30.0}) {
    const PitchTrack track = track_with_hum(under_db);
    const auto holds = find_holds(track, {});
    ASSERT_EQ(holds.size(), 2U) << under_db;
    const auto headroom = headroom_db(power_of(track), holds);
    ASSERT_TRUE(headroom) << under_db;
    EXPECT_NEAR(*headroom, under_db, 0.5);
  }
}

TEST(Headroom, IsUnknownWhereNothingLiesBetweenTheHolds) {
  const auto note = steady_tone({.rate_hz = headroom_rate_hz, .duration_s = 1.0, .harmonic_amplitudes = {0.2}});
  const PitchTrack track = track_pitch(note, headroom_rate_hz, {});
  EXPECT_FALSE(headroom_db(power_of(track), find_holds(track, {})));
  EXPECT_FALSE(headroom_db(power_of(track), {}));
}

}  // namespace
}  // namespace windway
