// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "playing/melody.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

/// A note of A5, one of B5 that is slurred to it, and A5 again.
Melody with_upper_note_of(double upper_s) {
  std::vector<float> samples;
  const auto add = [&](double f0_hz, double duration_s) {
    const auto tone =
        synthesis::steady_tone({.rate_hz = synthesis::tone_rate_hz, .duration_s = duration_s, .f0_hz = f0_hz});
    samples.insert(samples.end(), tone.begin(), tone.end());
  };
  add(880.0, 0.5);
  add(987.77, upper_s);
  add(880.0, 0.5);
  synthesis::Random random(1);
  synthesis::add_white_noise(samples, 40.0, random);
  Melody melody;
  melody.add(track_pitch(samples, synthesis::tone_rate_hz, {}));
  return melody;
}

TEST(Melody, ANoteGoesOnOverACutThatIsNoNoteItself) {
  const Melody melody = with_upper_note_of(0.05);
  ASSERT_EQ(melody.notes.size(), 1U);
  EXPECT_NEAR(melody.notes[0].cents, 1200.0, 1.0);
  EXPECT_NEAR(melody.notes[0].sounded_s, 1.0, 0.06);
  for (const MelodyFrame& frame : melody.notes[0].steady) EXPECT_NEAR(frame.cents, 1200.0, 5.0) << frame.at_s;
}

TEST(Melody, ATenthOfASecondIsANote) {
  const Melody melody = with_upper_note_of(0.12);
  ASSERT_EQ(melody.notes.size(), 3U);
  EXPECT_NEAR(melody.notes[1].cents, 1400.0, 1.0);
  EXPECT_NEAR(melody.notes[1].sounded_s, 0.12, 0.03);
}

}  // namespace
}  // namespace windway
