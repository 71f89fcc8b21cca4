// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "played_tone.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::holds_in;

std::vector<float> with_floor(std::vector<double> samples, Random& random) {
  for (double& x : samples) x += random.normal(0.0, 0.0003);
  return to_float(samples);
}

TEST(FindHolds, ThereAreNoneInSilenceOrInNothing) {
  EXPECT_TRUE(holds_in(silence(tone_rate_hz, 3.0), tone_rate_hz).empty());
  EXPECT_TRUE(holds_in({}, tone_rate_hz).empty());
  EXPECT_TRUE(holds_in(silence(tone_rate_hz, 0.03), tone_rate_hz).empty());  // not one window
}

TEST(FindHolds, ThereAreNoneInNoise) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    Random random(seed);
    EXPECT_TRUE(holds_in(to_float(white_noise(240000, 0.1, random)), tone_rate_hz).empty());
    EXPECT_TRUE(holds_in(to_float(pink_noise(240000, tone_rate_hz, 0.1, random)), tone_rate_hz).empty());
    EXPECT_TRUE(holds_in(to_float(breath_noise(240000, tone_rate_hz, random)), tone_rate_hz).empty());
  }
}

TEST(FindHolds, ThereAreNoneInTalk) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    Random random(seed);
    EXPECT_TRUE(holds_in(with_floor(babble(10.0, tone_rate_hz, random), random), tone_rate_hz).empty())
        << "seed " << seed;
  }
}

TEST(FindHolds, ThereAreNoneInMainsHum) {
  for (const double mains_hz : {50.0, 60.0}) {
    Random random(2);
    auto hum = steady_tone({.rate_hz = tone_rate_hz,
                            .duration_s = 3.0,
                            .f0_hz = mains_hz,
                            .harmonic_amplitudes = {0.1, 0.005, 0.03, 0.003, 0.02, 0.0, 0.014}});
    add_white_noise(hum, 30.0, random);
    EXPECT_TRUE(holds_in(hum, tone_rate_hz).empty()) << mains_hz;
  }
}

TEST(FindHolds, ThereAreNoneInASirenOrASweep) {
  for (const double duration_s : {2.0, 6.0, 40.0}) {
    Random random(4);
    auto sweep = glide_tone({.rate_hz = tone_rate_hz, .duration_s = duration_s, .f0_hz = 400.0}, 1900.0);
    add_white_noise(sweep, 30.0, random);
    EXPECT_TRUE(holds_in(sweep, tone_rate_hz).empty()) << duration_s << " s";
  }
}

TEST(FindHolds, ASlideBetweenTwoNotesIsNeitherOfThem) {
  for (const double slide_s : {0.15, 0.2, 0.3, 0.5, 0.8}) {
    const ToneSpec low{.rate_hz = tone_rate_hz, .duration_s = 1.0, .f0_hz = 587.33};
    ToneSpec slide = low, high = low;
    slide.duration_s = slide_s;
    high.f0_hz = hz_at_cents(low.f0_hz, 200.0);
    Random random(5);
    auto take = joined({silence(tone_rate_hz, 0.3), steady_tone(low), glide_tone(slide, 200.0), steady_tone(high),
                        silence(tone_rate_hz, 0.3)});
    add_white_noise(take, 30.0, random);
    const auto holds = holds_in(take, tone_rate_hz);
    ASSERT_EQ(holds.size(), 2U) << slide_s;
    EXPECT_NEAR(cents_between(low.f0_hz, holds[0].frequency_hz), 0.0, 0.1) << slide_s;
    EXPECT_NEAR(cents_between(high.f0_hz, holds[1].frequency_hz), 0.0, 0.1) << slide_s;
  }
}

TEST(FindHolds, AFaintWhineBesideThePlayingIsNone) {
  const ToneSpec note{.rate_hz = tone_rate_hz, .duration_s = 1.0, .f0_hz = 587.33};
  auto take = joined({silence(tone_rate_hz, 2.0), steady_tone(note), silence(tone_rate_hz, 0.5), steady_tone(note),
                      silence(tone_rate_hz, 2.0)});
  const auto whine = steady_tone({.rate_hz = tone_rate_hz,
                                  .duration_s = static_cast<double>(take.size()) / tone_rate_hz,
                                  .f0_hz = 1017.0,
                                  .harmonic_amplitudes = {0.004}});
  for (std::size_t i = 0; i < take.size(); ++i) take[i] += whine[i];
  EXPECT_EQ(holds_in(take, tone_rate_hz).size(), 2U);
}

/// A string plucked or a bell struck: it begins at once and dies away, its upper partials faster.
std::vector<float> plucked(double f0_hz, double falls_db_per_s, Random& random) {
  std::vector<double> samples(static_cast<std::size_t>(2.0 * tone_rate_hz));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t_s = static_cast<double>(i) / tone_rate_hz - 0.5;
    if (t_s < 0.0) continue;
    for (const int k : {1, 2, 3, 4}) {
      samples[i] += 0.3 / k * amplitude_from_db(-falls_db_per_s * (0.5 + 0.5 * k) * t_s) *
                    std::sin(2.0 * std::numbers::pi * k * f0_hz * t_s);
    }
  }
  return with_floor(samples, random);
}

TEST(FindHolds, APluckedToneThatDiesAwayIsNoHold) {
  Random random(3);
  for (const double f0_hz : {293.66, 587.33, 880.0}) {
    for (const double falls_db_per_s : {20.0, 30.0, 60.0}) {
      EXPECT_TRUE(holds_in(plucked(f0_hz, falls_db_per_s, random), tone_rate_hz).empty())
          << f0_hz << " Hz, " << falls_db_per_s << " dB/s";
    }
  }
}

TEST(FindHolds, AGlideFasterThanBlowingMovesItIsNoHold) {
  // A siren or a slide whistle: an octave in a second.
  Random random(4);
  auto glide = glide_tone({.rate_hz = tone_rate_hz, .duration_s = 1.0, .f0_hz = 500.0}, 1200.0);
  add_white_noise(glide, 40.0, random);
  EXPECT_TRUE(holds_in(joined({silence(tone_rate_hz, 0.5), glide, silence(tone_rate_hz, 0.5)}), tone_rate_hz).empty());
}

TEST(FindHolds, APitchAboveTheHighestIsNoHold) {
  const auto samples = test::played({.f0_hz = 2000.0}, {{1.0}}, 5);
  EXPECT_EQ(holds_in(samples, tone_rate_hz).size(), 1U);
  EXPECT_TRUE(holds_in(samples, tone_rate_hz, {.max_hz = 1900.0}).empty());
}

}  // namespace
}  // namespace windway
