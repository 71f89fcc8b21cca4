// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/segmentation.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "segmentation/left_out_noise.hpp"
#include "segmentation/take_traits.hpp"

namespace windway {
namespace {

/// Frames alike but for a steady fall, one after the other. Without a level nothing sounds.
struct Stretch {
  std::size_t frames = 0;
  double cents = 0;
  std::optional<double> level_db = -20.0;
  double noise_db = -60.0;
  double fall_db_per_s = 0;
  double noise_fall_db_per_s = 0;
};

constexpr double curves_hop_s = 0.01;
const Stretch rest{50, 0, std::nullopt, -100.0};

FrameSeries series_with(const std::vector<Stretch>& stretches) {
  FrameSeries series{
      .hop_s = curves_hop_s, .window_s = 0.048, .cents = {}, .level_db = {}, .noise_db = {}, .quiet_noise_db = -100.0};
  for (const Stretch& s : stretches) {
    for (std::size_t i = 0; i < s.frames; ++i) {
      const double t_s = curves_hop_s * static_cast<double>(i);
      series.cents.push_back(s.level_db ? std::optional(s.cents) : std::nullopt);
      series.level_db.push_back(s.level_db.value_or(-200.0) - s.fall_db_per_s * t_s);
      series.noise_db.push_back(s.noise_db - s.noise_fall_db_per_s * t_s);
    }
  }
  return series;
}

std::size_t pieces_in(const std::vector<Stretch>& stretches) { return find_pieces(series_with(stretches)).size(); }

/// An echo that dies by 60 dB a second, of a tone as loud as the others.
Stretch echo(std::size_t frames) { return {frames, 0, -20.0, -60.0, 60.0, 60.0}; }

TEST(FindPieces, AnEchoIsNoBlowAndOneThatRisesOutOfItIs) {
  EXPECT_EQ(pieces_in({rest, {60}, echo(50), rest}), 1U);
  EXPECT_EQ(pieces_in({rest, {60}, echo(20), {60}, echo(50), rest}), 2U);
}

TEST(FindPieces, ANoteThatDiesAwayOutOfSilenceIsBlown) {
  // The noise of a weakening breath falls two to three times as fast as its tone; that of an echo as fast.
  EXPECT_EQ(pieces_in({rest, {45, 0, -20.0, -60.0, 12.0, 28.0}, rest}), 1U);
}

TEST(FindPieces, AFaintToneThatARoomMovesIsOneBlowWhereItsBreathIsHeardAllThrough) {
  std::vector<Stretch> stretches{rest, {60}, rest, {60}, rest, {60}, rest};
  for (int k = 0; k < 6; ++k) {
    stretches.push_back({14, 400.0, -50.0, -85.0, 80.0});
    stretches.push_back({14, 400.0, -61.0, -85.0, -80.0});
  }
  stretches.push_back(rest);
  EXPECT_EQ(pieces_in(stretches), 4U);
}

TEST(FindPieces, ADiminuendoOverAQuarterToneIsOneBlow) {
  std::vector<Stretch> stretches{rest};
  for (int k = 0; k < 12; ++k) stretches.push_back({10, -5.0 * k, -20.0 - 0.4 * k, -60.0 - k});
  stretches.push_back(rest);
  EXPECT_EQ(pieces_in(stretches), 1U);
}

TEST(FindPieces, AStepOfASemitoneIsAChangeOfNote) {
  EXPECT_EQ(pieces_in({rest, {50}, {50, 100.0}, {50, 300.0}, rest}), 3U);
}

FrameSeries with_tremolo(double depth_db, double rate_hz) {
  FrameSeries series = series_with({rest, {120}, rest, {120, 200.0}, rest, {120, 400.0}, rest});
  for (std::size_t i = 0; i < series.cents.size(); ++i) {
    if (!series.cents[i]) continue;
    const double swing = depth_db * std::sin(2.0 * std::numbers::pi * rate_hz * curves_hop_s * static_cast<double>(i));
    series.level_db[i] += swing;
    series.noise_db[i] += 3.0 * swing;
    *series.cents[i] += 4.0 * swing;
  }
  return series;
}

TEST(FindPieces, AVibratoOfTheBreathDividesNoBlow) {
  for (const double depth_db : {1.5, 3.0})
    for (const double rate_hz : {4.5, 5.2, 6.0}) EXPECT_EQ(find_pieces(with_tremolo(depth_db, rate_hz)).size(), 3U);
}

TEST(TakeTraits, TheVibratosPeriodIsWhatTheLevelRepeatsAfter) {
  const auto traits = traits_of(with_tremolo(2.0, 5.0), {});
  ASSERT_TRUE(traits);
  EXPECT_EQ(traits->vibrato_frames, 20U);
  EXPECT_EQ(traits_of(series_with({rest, {120}, rest}), {})->vibrato_frames, 0U);
}

TEST(TakeTraits, AToneInMostGapsIsForeign) {
  std::vector<Stretch> stretches;
  const Stretch whine{20, 1034.0, -48.0, -100.0};
  for (int k = 0; k < 6; ++k) {
    stretches.push_back(whine);
    stretches.push_back({60, 100.0 * k});
  }
  stretches.push_back(whine);
  const auto traits = traits_of(series_with(stretches), {});
  ASSERT_TRUE(traits);
  ASSERT_EQ(traits->foreign.size(), 1U);
  EXPECT_NEAR(traits->foreign[0].cents, 1034.0, 1.0);
  EXPECT_EQ(pieces_in(stretches), 6U);
}

// Of two notes blown three times each, soft blows and edges of the one stand in most gaps.
TEST(TakeTraits, ANoteThatIsBlownAgainAndAgainIsNotForeign) {
  const Stretch edge{4, 0.0, -40.0}, soft{110, 0.0, -33.0};
  const auto traits = traits_of(
      series_with({rest, soft, edge,         rest, edge,         {110, 0.0}, edge, rest,       edge, {110, 0.0},
                   edge, rest, {110, 200.0}, rest, {110, 200.0}, rest,       edge, {110, 0.0}, edge, rest}),
      {});
  ASSERT_TRUE(traits);
  EXPECT_TRUE(traits->foreign.empty());
}

TEST(FindPieces, ASlipIntoTheOctaveIsAnInterruptionAsLongAsItIsTooShortForAHold) {
  const auto pieces = find_pieces(series_with({rest, {40}, {18, 1200.0}, {40}, rest}));
  ASSERT_EQ(pieces.size(), 1U);
  EXPECT_EQ(pieces[0].spans.size(), 2U);
  EXPECT_EQ(pieces_in({rest, {40}, {40, 1200.0}, {40}, rest}), 3U);
}

TEST(FindPieces, ThereAreNoneWithoutATone) {
  EXPECT_TRUE(find_pieces(series_with({rest})).empty());
  EXPECT_TRUE(find_pieces(series_with({})).empty());
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

TEST(FindPieces, AToneThatGoesOnEvenlyIsOneBlowWhateverItsNoiseDoes) {
  EXPECT_EQ(find_pieces(series_of(track_with(-120.0F))).size(), 2U);  // as a codec leaves it out
  EXPECT_EQ(find_pieces(series_of(track_with(-101.0F))).size(), 2U);
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
