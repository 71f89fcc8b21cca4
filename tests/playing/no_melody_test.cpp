// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "playing/playing.hpp"
#include "recording/written_file.hpp"
#include "support/noise.hpp"
#include "support/sound_file.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

/// No number, but an Error of kind recording.
void expect_no_melody(const std::vector<float>& samples, const std::string& what) {
  const test::TemporaryFolder folder;
  const std::string path = folder.path_of("melody.wav");
  synthesis::write_sound(path, samples, synthesis::tone_rate_hz);
  try {
    const Playing playing = measure_playing(path, {}, {});
    ADD_FAILURE() << what << ": " << playing.notes.size() << " notes";
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording) << what;
  }
}

TEST(MeasurePlaying, SilenceIsNoMelody) {
  expect_no_melody(synthesis::silence(synthesis::tone_rate_hz, 10.0), "silence");
}

TEST(MeasurePlaying, NoiseIsNoMelody) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    synthesis::Random random(seed);
    expect_no_melody(synthesis::to_float(synthesis::white_noise(480000, 0.1, random)), "white noise");
    expect_no_melody(synthesis::to_float(synthesis::pink_noise(480000, synthesis::tone_rate_hz, 0.1, random)),
                     "pink noise");
    expect_no_melody(synthesis::to_float(synthesis::breath_noise(480000, synthesis::tone_rate_hz, random)),
                     "breath noise");
  }
}

TEST(MeasurePlaying, TalkIsNoMelody) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    synthesis::Random random(seed);
    std::vector<double> talk = synthesis::babble(20.0, synthesis::tone_rate_hz, random);
    for (double& x : talk) x = 0.5 * x + random.normal(0.0, 0.0003);
    expect_no_melody(synthesis::to_float(talk), "talk " + std::to_string(seed));
  }
}

TEST(MeasurePlaying, ASirenIsNoMelody) {
  synthesis::Random random(4);
  for (const double duration_s : {4.0, 20.0}) {
    auto siren =
        synthesis::glide_tone({.rate_hz = synthesis::tone_rate_hz, .duration_s = duration_s, .f0_hz = 400.0}, 1900.0);
    synthesis::add_white_noise(siren, 30.0, random);
    expect_no_melody(siren, "siren");
  }
}

TEST(MeasurePlaying, TooShortIsNoMelody) {
  expect_no_melody(synthesis::steady_tone({.rate_hz = synthesis::tone_rate_hz, .duration_s = 0.3}), "0.3 s");
  expect_no_melody(synthesis::silence(synthesis::tone_rate_hz, 0.03), "not one window");
}

}  // namespace
}  // namespace windway
