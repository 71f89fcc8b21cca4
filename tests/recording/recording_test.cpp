// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/recording.hpp"

#include <gtest/gtest.h>
#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <vector>

#include "written_file.hpp"

namespace windway {
namespace {

using test::FileFormat;
using test::interleave;
using test::sine;

struct WholeTake {
  std::vector<float> samples;
  double rate_hz = 0;
  TakeInfo info;
  Warnings warnings;

  bool warns_of(WarningCode code) const {
    for (const Warning& warning : warnings) {
      if (warning.code == code) return true;
    }
    return false;
  }
};

WholeTake read_whole(const std::string& path, std::size_t block = 1000) {
  Recording recording(path);
  WholeTake take;
  std::vector<float> samples(block);
  while (const std::size_t count = recording.read(samples)) {
    take.samples.insert(take.samples.end(), samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(count));
  }
  take.rate_hz = recording.working_rate_hz();
  take.info = recording.info();
  take.warnings = recording.warnings();
  return take;
}

class RecordingTest : public testing::Test {
 protected:
  WholeTake take_of(const std::vector<float>& interleaved, const FileFormat& format) {
    const std::string path = folder.path_of("take.wav");
    test::write_file(path, interleaved, format);
    return read_whole(path);
  }

  test::TemporaryFolder folder;
};

struct FormatCase {
  const char* name;
  int format;
  int rate_hz;
  double tolerance;  // full scale 1: a step of the format and the filter's ripple (1.5e-5), or what the codec loses
};

class EveryFormat : public testing::TestWithParam<FormatCase> {
 protected:
  test::TemporaryFolder folder;
};

INSTANTIATE_TEST_SUITE_P(Recording, EveryFormat,
                         testing::Values(FormatCase{"wav8", SF_FORMAT_WAV | SF_FORMAT_PCM_U8, 22050, 0.01},
                                         FormatCase{"wav16", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1e-4},
                                         FormatCase{"wav24", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 44100, 2e-5},
                                         FormatCase{"wav_float", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 96000, 2e-5},
                                         FormatCase{"wav_double", SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 192000, 2e-5},
                                         FormatCase{"w64", SF_FORMAT_W64 | SF_FORMAT_PCM_16, 8000, 1e-4},
                                         FormatCase{"rf64", SF_FORMAT_RF64 | SF_FORMAT_PCM_16, 32000, 1e-4},
                                         FormatCase{"aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 48000, 1e-4},
                                         FormatCase{"au", SF_FORMAT_AU | SF_FORMAT_PCM_16, 48000, 1e-4},
                                         FormatCase{"caf", SF_FORMAT_CAF | SF_FORMAT_PCM_24, 88200, 2e-5},
                                         FormatCase{"flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 48000, 2e-5},
                                         FormatCase{"ogg", SF_FORMAT_OGG | SF_FORMAT_VORBIS, 44100, 0.03},
                                         FormatCase{"opus", SF_FORMAT_OGG | SF_FORMAT_OPUS, 48000, 0.03},
                                         FormatCase{"mp3", SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, 44100, 0.03}),
                         [](const auto& given) { return given.param.name; });

TEST_P(EveryFormat, GivesTheSamplesAtTheirTimes) {
  const FormatCase& given = GetParam();
  const std::string path = folder.path_of("take");
  test::write_file(path, sine(587.33, 0.5, given.rate_hz, 1.5), {given.format, given.rate_hz, 1, "", "", ""});
  const WholeTake take = read_whole(path);
  EXPECT_EQ(take.info.sample_rate_hz, given.rate_hz);
  EXPECT_EQ(take.info.channels, 1);
  EXPECT_NEAR(take.info.duration_s, 1.5, 0.06);  // MP3 adds whole frames
  EXPECT_TRUE(take.rate_hz < 28000 && (take.rate_hz >= 14000 || take.rate_hz == given.rate_hz)) << take.rate_hz;
  EXPECT_NEAR(static_cast<double>(take.samples.size()), take.info.duration_s * take.rate_hz, 1.0);
  const std::vector<float> truth = sine(587.33, 0.5, take.rate_hz, 1.5);
  double largest = 0;
  for (std::size_t i = truth.size() / 10; i < truth.size() * 9 / 10; ++i) {
    largest = std::max(largest, std::abs(static_cast<double>(take.samples.at(i)) - truth[i]));
  }
  EXPECT_LT(largest, given.tolerance);
  EXPECT_TRUE(take.warnings.empty()) << take.warnings.at(0).message;
}

TEST_P(EveryFormat, SaysWhereTheEndIsMissing) {
  const FormatCase& given = GetParam();
  const std::string path = folder.path_of("take");
  test::write_file(path, test::noise(0.3, static_cast<std::size_t>(given.rate_hz) * 4, 9),
                   {given.format, given.rate_hz, 1, "", "", ""});
  std::filesystem::resize_file(path, std::filesystem::file_size(path) * 6 / 10);
  const WholeTake take = read_whole(path);
  EXPECT_TRUE(std::ranges::any_of(take.warnings, [](const Warning& w) { return w.code == WarningCode::truncated; }));
}

TEST_F(RecordingTest, GivesTheSameSamplesWhateverIsAskedForAtOnce) {
  const std::string path = folder.path_of("take.wav");
  test::write_file(path, test::noise(0.4, 100000, 5), {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, "", "", ""});
  EXPECT_EQ(read_whole(path, 1).samples, read_whole(path, 100000).samples);
  EXPECT_EQ(read_whole(path, 1).info.sha256, read_whole(path, 7).info.sha256);
}

TEST_F(RecordingTest, LeavesTheDigestOutWhereNobodyAsksForIt) {
  const std::string path = folder.path_of("take.wav");
  test::write_file(path, test::noise(0.4, 1000, 5), {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, "", "", ""});
  EXPECT_EQ(Recording(path).info().sha256.size(), 64U);
  EXPECT_EQ(Recording(path, Digest::left_out).info().sha256, "");
}

TEST_F(RecordingTest, ChoosesTheLiveChannelOfAnUncompressedAndOfACompressedFile) {
  const std::vector<float> live = sine(587.33, 0.5, 48000, 3.0);
  const std::vector<float> both = interleave({test::noise(0.0001, live.size(), 1), live});
  for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_16, SF_FORMAT_FLAC | SF_FORMAT_PCM_16}) {
    const WholeTake take = take_of(both, {format, 48000, 2, "", "", ""});
    EXPECT_EQ(take.info.channel_used, 1);
    EXPECT_EQ(take.info.channels, 2);
    EXPECT_NEAR(take.info.peak, 0.5, 1e-3);
    EXPECT_EQ(take.samples.size(), 48000u);
    EXPECT_NEAR(take.samples.at(16000), sine(587.33, 0.5, 16000, 1.1).at(16000), 1e-3);
  }
}

TEST_F(RecordingTest, ReadsTakesShorterThanTheFirstLook) {
  EXPECT_EQ(take_of({0.1f, 0.2f}, {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 2, "", "", ""}).samples.size(), 1u);
  EXPECT_EQ(take_of({0.1f}, {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 192000, 1, "", "", ""}).samples.size(), 1u);
}

TEST_F(RecordingTest, TakesSamplesThatAreNoNumbersAsSilenceAndSaysSo) {
  std::vector<float> samples = sine(587.33, 0.5, 48000, 1.0);
  samples[1000] = std::numeric_limits<float>::quiet_NaN();
  samples[2000] = std::numeric_limits<float>::infinity();
  samples[3000] = -1e30f;
  const WholeTake take = take_of(samples, {SF_FORMAT_WAV | SF_FORMAT_FLOAT, 48000, 1, "", "", ""});
  EXPECT_TRUE(take.info.non_finite);
  EXPECT_TRUE(take.warns_of(WarningCode::non_finite_samples));
  EXPECT_NEAR(take.info.peak, 0.5, 1e-3);
  for (const float sample : take.samples) ASSERT_LT(std::abs(sample), 1.0f);
}

TEST_F(RecordingTest, WarnsOfClippingThoughThereIsAnOffset) {
  std::vector<float> samples = sine(441.3, 1.4, 48000, 1.0);
  for (float& sample : samples) sample = std::clamp(sample + 0.1f, -1.0f, 1.0f);
  const WholeTake take = take_of(samples, {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, "", "", ""});
  EXPECT_TRUE(take.warns_of(WarningCode::clipped));
  EXPECT_GT(take.info.clipped_share, 0.3);
  const WholeTake clean =
      take_of(sine(441.3, 0.99, 48000, 1.0), {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, "", "", ""});
  EXPECT_EQ(clean.info.clipped_share, 0.0);
  EXPECT_TRUE(clean.warnings.empty());
}

TEST_F(RecordingTest, WarnsOfSilenceThoughThereIsAnOffset) {
  const WholeTake take =
      take_of(std::vector<float>(48000, 0.01f), {SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, "", "", ""});
  EXPECT_TRUE(take.warns_of(WarningCode::silent));
}

TEST_F(RecordingTest, TellsWhenItWasRecorded) {
  const std::vector<float> samples = sine(441, 0.5, 48000, 0.1);
  const int wav = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
  EXPECT_EQ(take_of(samples, {wav, 48000, 1, "", "2024-05-01", "12:30:45"}).info.recorded_at, "2024-05-01T12:30:45");
  EXPECT_EQ(take_of(samples, {wav, 48000, 1, "2023-04-02", "", ""}).info.recorded_at, "2023-04-02");
  EXPECT_EQ(take_of(samples, {SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 48000, 1, "2022", "", ""}).info.recorded_at, "2022");
  EXPECT_EQ(take_of(samples, {wav, 48000, 1, "", "", ""}).info.recorded_at, std::nullopt);
}

}  // namespace
}  // namespace windway
