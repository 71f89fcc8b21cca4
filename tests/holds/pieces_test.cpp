// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/pieces.hpp"

#include <gtest/gtest.h>

#include "holds/dips.hpp"
#include "holds/left_out_noise.hpp"

namespace windway {
namespace {

/// Frames alike, one after the other.
struct Stretch {
  std::size_t frames = 0;
  double cents = 0;
  double level_db = -20.0;
  double noise_db = -60.0;
};

FrameSeries series_with(const std::vector<Stretch>& stretches) {
  FrameSeries series{.hop_s = 0.01, .cents = {}, .level_db = {}, .noise_db = {}, .quiet_noise_db = -100.0};
  for (const Stretch& s : stretches) {
    series.cents.insert(series.cents.end(), s.frames, s.cents);
    series.level_db.insert(series.level_db.end(), s.frames, s.level_db);
    series.noise_db.insert(series.noise_db.end(), s.frames, s.noise_db);
  }
  return series;
}

/// A blow of half a second, then its echo, which dies by 45 dB a second and after 0.15 s is heard at `harmonic_cents`.
FrameSeries with_echo(double harmonic_cents) {
  FrameSeries series = series_with({{50}});
  for (std::size_t i = 1; i <= 60; ++i) {
    const double fallen_db = 0.45 * static_cast<double>(i);
    series.cents.push_back(i < 15 ? 0.0 : harmonic_cents);
    series.level_db.push_back(-20.0 - fallen_db);
    series.noise_db.push_back(-60.0 - fallen_db);
  }
  return series;
}

TEST(InDip, AnEchoHeardAtAHarmonicIsTheTailOfItsNote) {
  for (const double harmonic_cents : {1200.0, 1902.0, 2400.0, 2786.0}) {
    const auto dip = in_dip(with_echo(harmonic_cents));
    for (std::size_t i = 50 + 28; i < 50 + 44; ++i) EXPECT_TRUE(dip[i]) << harmonic_cents << " cents, frame " << i;
  }
}

TEST(InDip, ASoftBlowOfTheOctaveAfterTheEchoOfAHardOneIsNone) {
  FrameSeries series = with_echo(1200.0);
  for (std::size_t i = 50 + 30; i < series.cents.size(); ++i) {
    series.level_db[i] = -33.0;
    series.noise_db[i] = -67.0;  // the breath is heard again
  }
  const auto dip = in_dip(series);
  for (std::size_t i = 50 + 30; i < series.cents.size(); ++i) EXPECT_FALSE(dip[i]) << i;
}

TEST(FindPieces, ASoundThatGoesOnUndiminishedInEitherRegisterIsOneBlow) {
  const auto blow = [](double between_db) {
    return series_with({{20}, {2, -1200.0}, {5, 0.0, between_db}, {2, -1200.0}, {20}});
  };
  EXPECT_EQ(find_pieces(blow(-20.5)).size(), 1U);
  EXPECT_EQ(find_pieces(blow(-25.0)).size(), 2U);
}

TEST(FindPieces, ASlipIntoTheOctaveIsABreakAsLongAsItIsTooShortForAHold) {
  const auto blow = [](std::size_t slip) { return series_with({{24}, {slip, 1200.0}, {24}}); };
  EXPECT_EQ(find_pieces(blow(23)).size(), 1U);  // a change of note takes a few frames at either end
  EXPECT_EQ(find_pieces(blow(28)).size(), 3U);
}

/// Two blows with silence about them; under the second the noise falls away for a fifth of a second.
PitchTrack track_with(float least_noise_db) {
  PitchTrack track{.first_s = 0.0, .hop_s = 0.01, .window_s = 0.08, .working_rate_hz = 16000.0, .frames = {}};
  const auto add = [&](std::size_t frames, bool sounds, float noise_db) {
    PitchFrame frame{.tone = std::nullopt, .power_db = -65.0F, .noise_db = noise_db};
    if (sounds) {
      frame.tone = Tone{.f0_hz = 440.0F, .clarity = 0.98F, .amplitude = {0.14F}, .phase_rad = {}};
      frame.power_db = -20.0F;
    }
    track.frames.insert(track.frames.end(), frames, frame);
  };
  add(30, false, -105.0F);
  add(70, true, -80.0F);
  add(30, false, -105.0F);
  add(30, true, -80.0F);
  add(20, true, least_noise_db);
  add(30, true, -80.0F);
  add(30, false, -105.0F);
  return track;
}

TEST(FindPieces, WhereACodecLeavesOutTheNoiseUnderATonePiecesAreToldByTheToneAlone) {
  EXPECT_EQ(find_pieces(series_of(track_with(-120.0F))).size(), 2U);
  EXPECT_EQ(find_pieces(series_of(track_with(-101.0F))).size(), 3U);  // as between two blows in a live room
}

TEST(NoiseIsLeftOut, OnlyWhereItLiesUnderTheNoiseOfSilence) {
  const auto left_out = [](const PitchTrack& track) {
    std::vector<std::optional<double>> cents;
    for (const PitchFrame& f : track.frames) cents.push_back(f.tone ? std::optional(0.0) : std::nullopt);
    return noise_is_left_out(track, cents);
  };
  EXPECT_TRUE(left_out(track_with(-120.0F)));
  EXPECT_FALSE(left_out(track_with(-106.0F)));
  PitchTrack without_silence = track_with(-120.0F);
  std::erase_if(without_silence.frames, [](const PitchFrame& frame) { return !frame.tone; });
  EXPECT_FALSE(left_out(without_silence));
  EXPECT_FALSE(left_out({}));
}

}  // namespace
}  // namespace windway
