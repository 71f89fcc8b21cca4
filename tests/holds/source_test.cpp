// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/source.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/find_holds.hpp"
#include "support/noise.hpp"
#include "support/plan.hpp"
#include "support/random.hpp"
#include "support/take.hpp"

namespace windway {
namespace {

using namespace synthesis;

SyntheticTake scale_take(std::uint64_t seed, const Performance& performance = {}) {
  Random random(seed);
  const FluteModel flute = draw_flute({}, random);
  const auto plan = note_by_note(major_scale(flute.notes.front().midi, 12), {Blow::soft, Blow::hard}, {}, {}, random);
  return synthesise_take(flute, plan, performance, random);
}

Warnings warnings_of(const std::vector<float>& samples, double rate_hz) {
  return source_warnings("take.wav", find_holds(track_pitch(samples, rate_hz, {}), {}));
}

/// A hold each, far enough apart.
std::vector<Hold> holds_of(const std::vector<int>& midi, double length_s) {
  std::vector<Hold> holds;
  for (const int key : midi) {
    Hold& hold = holds.emplace_back();
    hold.start_s = 2.0 * static_cast<double>(holds.size());
    hold.end_s = hold.start_s + length_s;
    const double off_cents = key * 7 % 11 - 5;  // as a hand makes it
    hold.frequency_hz = 440.0 * std::exp2((100.0 * (key - 69) + off_cents) / 1200.0);
  }
  return holds;
}

TEST(SourceWarnings, OfOneFluteAreNone) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const SyntheticTake take = scale_take(seed);
    EXPECT_TRUE(warnings_of(take.samples, take.rate_hz).empty()) << seed;
  }
}

TEST(SourceWarnings, NameAMelodyThatIsHeardInThePauses) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    Random random(seed);
    const FluteModel flute = draw_flute({}, random), another = draw_flute({}, random);
    const Timing pauses{{0.7, 0.9}, {0.35, 0.5}}, quick{{0.4, 0.6}, {0.02, 0.03}};
    const auto scale =
        note_by_note(major_scale(flute.notes.front().midi, 12), {Blow::soft, Blow::hard}, {}, pauses, random);
    const auto melody = note_by_note(major_scale(another.notes.front().midi, 12), {Blow::moderate}, {}, quick, random);
    const SyntheticTake first = synthesise_take(flute, scale, {}, random);
    const SyntheticTake second = synthesise_take(another, melody, {}, random);
    std::vector<float> both = first.samples;
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += 0.06F * second.samples[i % second.samples.size()];
    EXPECT_FALSE(find_warning(warnings_of(first.samples, first.rate_hz), WarningCode::other_sound)) << seed;
    EXPECT_TRUE(find_warning(warnings_of(both, first.rate_hz), WarningCode::other_sound)) << seed;
  }
}

TEST(SourceWarnings, NameASofterOtherNoteBetweenTwoBlowsOfOne) {
  std::vector<Hold> holds = holds_of({74, 81, 74, 76, 83, 76, 78, 78}, 1.0);
  for (Hold& hold : holds) hold.level_db = -20.0;
  EXPECT_FALSE(find_warning(source_warnings("take.wav", holds), WarningCode::other_sound));
  holds[1].level_db = holds[4].level_db = -26.0;
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds), WarningCode::other_sound));
}

TEST(SourceWarnings, ANoteThatSoundsWeaklyIsTheFlutesOwn) {
  std::vector<Hold> holds = holds_of({74, 76, 77, 79, 81, 79, 77, 76, 74}, 1.0);  // up and down again
  for (Hold& hold : holds) hold.level_db = -20.0;
  holds[2].level_db = holds[6].level_db = -32.0;
  EXPECT_FALSE(find_warning(source_warnings("take.wav", holds), WarningCode::other_sound));
}

TEST(SourceWarnings, NameASecondFluteTwelveDecibelsUnderTheFirst) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const SyntheticTake first = scale_take(seed);
    SyntheticTake second = scale_take(seed + 100);
    std::ranges::reverse(second.samples);  // down while the first goes up: else they might play in unison
    std::vector<float> both = first.samples;
    for (std::size_t i = 0; i < std::min(both.size(), second.samples.size()); ++i) both[i] += 0.25F * second.samples[i];
    EXPECT_TRUE(find_warning(warnings_of(both, first.rate_hz), WarningCode::other_sound)) << seed;
  }
}

TEST(SourceWarnings, NameAChord) {
  constexpr double rate_hz = 24000.0;
  std::vector<float> samples;
  for (int chord = 0; chord < 6; ++chord) {
    for (int i = 0; i < 24000; ++i) {
      const double turn = 2.0 * std::numbers::pi * (500.0 + 60.0 * chord) * i / rate_hz;
      samples.push_back(
          static_cast<float>(0.2 * std::sin(turn) + 0.15 * std::sin(1.26 * turn) + 0.15 * std::sin(1.5 * turn)));
    }
    samples.insert(samples.end(), 12000, 0.0F);
  }
  EXPECT_TRUE(find_warning(warnings_of(samples, rate_hz), WarningCode::other_sound));
}

TEST(SourceWarnings, NameAStringByItsStretchedOvertones) {
  std::vector<Hold> holds = holds_of({62, 64, 66, 67, 69, 71}, 1.0);
  for (Hold& hold : holds) hold.octave_stretch_cents = 1.6;  // a piano's middle octaves (B = 6e-4, Fletcher 1964)
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds), WarningCode::struck_string));
  for (Hold& hold : holds) hold.octave_stretch_cents = 0.3;  // a room
  EXPECT_TRUE(source_warnings("take.wav", holds).empty());
}

TEST(OctaveStretch, IsThatOfAStringAndNoneOfABlownTone) {
  constexpr double rate_hz = 24000.0, stretch_cents = 1.6;
  for (const double stiff : {0.0, 1.0}) {
    std::vector<float> samples;
    for (int i = 0; i < 36000; ++i) {
      double sum = 0;
      for (const int number : {1, 2, 3}) {
        const double wider_cents = stiff * stretch_cents * (number * number - 1) / 3.0;
        const double hz = number * 500.0 * std::exp2(wider_cents / 1200.0);
        sum += 0.2 / number * std::sin(2.0 * std::numbers::pi * hz * i / rate_hz);
      }
      samples.push_back(static_cast<float>(sum));
    }
    const auto holds = find_holds(track_pitch(samples, rate_hz, {}), {});
    ASSERT_EQ(holds.size(), 1U);
    ASSERT_TRUE(holds[0].octave_stretch_cents);
    EXPECT_NEAR(*holds[0].octave_stretch_cents, stiff * stretch_cents, 0.02);
  }
}

TEST(SourceWarnings, NamePitchesThatNoFluteHas) {
  std::vector<Hold> holds = holds_of({74, 74, 76, 76, 78, 79, 81}, 1.0);
  for (Hold& hold : holds) {
    const double semitones = 12.0 * std::log2(hold.frequency_hz / 442.0);
    hold.frequency_hz = 442.0 * std::exp2((std::round(semitones) + 0.0005 * (hold.start_s > 8 ? 1 : -1)) / 12.0);
  }
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds), WarningCode::pitch_corrected));
  holds.resize(3);  // two notes may stand so by chance
  EXPECT_TRUE(source_warnings("take.wav", holds).empty());
}

TEST(SourceWarnings, NameNotesThatSwingTooWidely) {
  std::vector<Hold> holds = holds_of({74, 76, 78, 79}, 1.0);
  for (Hold& hold : holds) hold.wander_cents = 28.0, hold.frequency_u95_cents = 0.1;  // vibrato of 40 cents
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds), WarningCode::unsteady));
  for (Hold& hold : holds) hold.wander_cents = 1.1, hold.frequency_u95_cents = 2.0;  // its curve was lost
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds), WarningCode::unsteady));
  for (Hold& hold : holds) hold.wander_cents = 14.3, hold.frequency_u95_cents = 2.9;  // a breathy whistle
  EXPECT_TRUE(source_warnings("take.wav", holds).empty());
}

TEST(SourceWarnings, NameATuneButNoScaleHoweverItIsPlayed) {
  const std::vector<int> tune{74, 78, 76, 79, 78, 81, 79, 76, 78, 74, 76, 73, 74, 78, 74};
  EXPECT_TRUE(find_warning(source_warnings("take.wav", holds_of(tune, 0.35)), WarningCode::tune_played));
  EXPECT_TRUE(source_warnings("take.wav", holds_of(tune, 1.2)).empty());  // held notes in any order are held notes
  std::vector<int> scale, up_and_down;
  for (const int key : {74, 76, 78, 79, 81, 83, 85, 86})
    for (int blow = 0; blow < 3; ++blow) scale.push_back(key);
  for (int round = 0; round < 3; ++round)
    for (const int key : {74, 76, 78, 79, 81, 83, 85, 86, 85, 83, 81, 79, 78, 76}) up_and_down.push_back(key);
  EXPECT_TRUE(source_warnings("take.wav", holds_of(scale, 0.35)).empty());
  EXPECT_TRUE(source_warnings("take.wav", holds_of(up_and_down, 0.35)).empty());
}

}  // namespace
}  // namespace windway
