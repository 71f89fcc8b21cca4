// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/implied_a4.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "instrument/note.hpp"
#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

std::vector<NotePitch> played(const std::vector<int>& keys, double a4_hz, const std::vector<double>& off_cents = {}) {
  std::vector<NotePitch> pitches;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const double off = off_cents.empty() ? 0.0 : off_cents[i];
    pitches.push_back({hz_at_cents(equal_tempered_hz(keys[i], a4_hz), off), 0.3});
  }
  return pitches;
}

std::vector<int> keys_of(const std::vector<NamedPitch>& named) {
  std::vector<int> keys;
  for (const NamedPitch& note : named) keys.push_back(note.midi);
  return keys;
}

TEST(NamedPitches, AreNamedTogetherNearlyHalfASemitoneOff) {
  const std::vector<int> keys{69, 72, 74, 76, 79};
  const std::vector<double> off{-4.0, 3.0, 0.0, 4.0, -2.0};  // some beyond half a semitone, some not
  for (const double cents : {-47.0, 0.0, 47.0}) {
    const auto named = named_pitches(played(keys, hz_at_cents(440.0, cents), off), {});
    EXPECT_EQ(keys_of(named), keys) << cents;
  }
}

TEST(NamedPitches, FollowTheTemperamentAndTheGuess) {
  const Tuning tuning{415.0, {TemperamentName::meantone, 2, {}}};
  std::vector<NotePitch> pitches;
  for (const int midi : {69, 70, 73, 78}) pitches.push_back({hz_at_cents(target_hz(midi, tuning), 6.0), 0.3});
  const auto named = named_pitches(pitches, tuning);
  EXPECT_EQ(keys_of(named), (std::vector<int>{69, 70, 73, 78}));
  for (const NamedPitch& note : named) EXPECT_NEAR(note.cents, 6.0, 1e-9);
}

MeanDeviation mean_of(const std::vector<NotePitch>& pitches) {
  return mean_deviation(named_pitches(pitches, {}), pitches);
}

TEST(MeanDeviation, LeavesOutAStringThatHasSlipped) {
  const auto mean = mean_of(played({69, 72, 74, 76, 79}, 441.0, {0.0, 0.5, -22.0, -0.5, 0.0}));
  EXPECT_NEAR(hz_at_cents(440.0, mean.cents), 441.0, 0.05);
  EXPECT_EQ(mean.is_far_off, (std::vector<bool>{false, false, true, false, false}));
}

TEST(MeanDeviation, CountsAKeyOnceHoweverOftenItIsPlayed) {
  const auto mean = mean_of(played({69, 69, 69, 69, 76}, 440.0, {2.0, 2.0, 2.0, 2.0, -2.0}));
  EXPECT_NEAR(mean.cents, 0.0, 0.1);
}

TEST(MeanDeviation, StatesAnUncertaintyThatHoldsTheTruth) {
  synthesis::Random random(12);
  constexpr int pianos = 1000;
  for (const int keys : {2, 3, 5, 8}) {
    int held = 0;
    for (int i = 0; i < pianos; ++i) {
      std::vector<int> played_keys;
      std::vector<double> off;
      for (int key = 0; key < keys; ++key) {
        played_keys.push_back(69 + 2 * key);
        off.push_back(random.normal(0.0, 1.0));
      }
      const auto mean = mean_of(played(played_keys, 440.0, off));
      held += std::abs(mean.cents) <= mean.u95_cents ? 1 : 0;
    }
    EXPECT_GE(100.0 * held / pianos, keys < 4 ? 90.0 : 92.0) << keys << " keys";
    const double most = keys > 2 ? 98.0 : 100.0;  // of two keys little can be said
    EXPECT_LE(100.0 * held / pianos, most) << keys << " keys";
  }
}

TEST(MeanDeviation, OfOneNoteIsThatNote) {
  const auto mean = mean_of(played({74}, 438.0));
  EXPECT_NEAR(hz_at_cents(440.0, mean.cents), 438.0, 1e-9);
  EXPECT_GT(mean.u95_cents, 0.5);
}

}  // namespace
}  // namespace windway
