// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cstdio>
#include <string>
#include <utility>
#include <vector>

#include "pitch/pitch_track.hpp"
#include "recording/recording.hpp"
#include "support/sound_file.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double rate_hz = 8000.0;

/// Chapters of a take of `notes` notes of `note_s`, with `rest_s` after each.
std::vector<PitchTrack> chapters(int notes, double note_s, double rest_s) {
  const auto note = joined({steady_tone({.rate_hz = rate_hz, .duration_s = note_s, .harmonic_amplitudes = {0.2}}),
                            silence(rate_hz, rest_s)});
  const std::string test = testing::UnitTest::GetInstance()->current_test_info()->name();  // tests run side by side
  const std::string path = testing::TempDir() + "windway-" + test + ".wav";
  write_sound(path, joined(std::vector<std::vector<float>>(static_cast<std::size_t>(notes), note)), rate_hz);
  Recording recording(path);
  PitchTracker tracker(recording, {});
  std::vector<PitchTrack> all;
  while (auto chapter = tracker.next_chapter()) all.push_back(std::move(*chapter));
  std::remove(path.c_str());
  return all;
}

TEST(PitchTracker, GivesAShortTakeAsOneChapter) {
  const auto all = chapters(10, 0.7, 0.3);
  ASSERT_EQ(all.size(), 1U);
  EXPECT_NEAR(static_cast<double>(all[0].frames.size()) * all[0].hop_s, 10.0, 0.06);
}

TEST(PitchTracker, CutsALongTakeInARestAndLosesNoFrame) {
  const auto all = chapters(75, 18.0, 2.0);  // 25 minutes
  ASSERT_EQ(all.size(), 3U);
  double next_s = all[0].first_s;
  for (const PitchTrack& chapter : all) {
    EXPECT_NEAR(chapter.first_s, next_s, 1e-6);
    EXPECT_FALSE(chapter.frames.back().tone);
    next_s = chapter.time_s(chapter.frames.size());
  }
  EXPECT_FALSE(all[1].frames.front().tone);
  EXPECT_NEAR(next_s, 1500.0, 0.06);
}

TEST(PitchTracker, CutsAToneThatHasNoRestAtTheLastMoment) {
  const auto all = chapters(1, 900.0, 0.0);
  ASSERT_EQ(all.size(), 2U);
  EXPECT_NEAR(all[1].first_s - all[0].first_s, 720.0, 2.1);  // a block of samples more
}

}  // namespace
}  // namespace windway
