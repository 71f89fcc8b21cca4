// SPDX-License-Identifier: GPL-3.0-or-later
// Files that libsndfile does not read, made and decoded by the ffmpeg program.
#include <gtest/gtest.h>
#include <sndfile.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <random>
#include <thread>

#include "no_programs.hpp"
#include "open_descriptors.hpp"
#include "recording/recording.hpp"
#include "support/ffmpeg.hpp"
#include "why_refused.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

using synthesis::convert_sound;
using synthesis::run_ffmpeg;
using test::interleave;
using test::sine;
using test::why_refused;

constexpr double tone_hz = 880.0;
constexpr double amplitude = 0.4;
constexpr int wav_16_bit = SF_FORMAT_WAV | SF_FORMAT_PCM_16;

struct DecodedTake {
  std::vector<float> samples;
  double rate_hz = 0;
  TakeInfo info;
  Warnings warnings;
};

DecodedTake decoded(const std::string& path) {
  Recording recording(path);
  DecodedTake take;
  std::vector<float> block(1000);
  while (const std::size_t count = recording.read(block))
    take.samples.insert(take.samples.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(count));
  take.rate_hz = recording.working_rate_hz();
  take.info = recording.info();
  take.warnings = recording.warnings();
  return take;
}

/// Of the tone between 1 s and 2 s.
double amplitude_of(const DecodedTake& take) {
  const auto rate = static_cast<std::size_t>(take.rate_hz);
  double in_phase = 0, across = 0;
  for (std::size_t i = rate; i < 2 * rate; ++i) {
    const double angle_rad = 2 * std::numbers::pi * tone_hz * static_cast<double>(i) / take.rate_hz;
    in_phase += take.samples.at(i) * std::cos(angle_rad);
    across += take.samples.at(i) * std::sin(angle_rad);
  }
  return 2 * std::hypot(in_phase, across) / take.rate_hz;
}

class Decoded : public testing::Test {
 protected:
  void SetUp() override {
    if (!synthesis::has_ffmpeg()) GTEST_SKIP() << "ffmpeg is not installed";
  }
  std::string path_of(const std::string& name) const { return folder_.path_of(name); }
  /// Three seconds of the tone, 16 bit.
  std::string tone(const std::string& name = "tone.wav", int rate_hz = 44100) const {
    test::write_file(path_of(name), sine(tone_hz, amplitude, rate_hz, 3.0), {wav_16_bit, rate_hz, 1, "", "", ""});
    return path_of(name);
  }
  std::string converted(const std::string& name, const std::string& codec, double kbit_s = 0.0) const {
    convert_sound(tone(), path_of(name), codec, kbit_s);
    return path_of(name);
  }
  std::string made(const std::string& name, std::vector<std::string> arguments) const {
    arguments.push_back("file:" + path_of(name));
    run_ffmpeg(arguments);
    return path_of(name);
  }
  std::string written(const std::string& name, std::string_view bytes) const {
    test::write_bytes(path_of(name), bytes);
    return path_of(name);
  }
  void expect_refusal(const std::string& path, const std::string& why) const {
    EXPECT_EQ(why_refused(path), "cannot read " + path + ": " + why);
  }

  test::TemporaryFolder folder_;
};

struct ToldOfCoding {
  const char* name;
  const char* codec;
  double kbit_s;
  double rate_hz;
  const char* coding;
  std::optional<bool> lossy;
};

TEST_F(Decoded, SoundsAsItDidAndSaysHowItIsCoded) {
  for (const auto& [name, codec, kbit_s, rate_hz, coding, lossy] :
       {ToldOfCoding{"64.m4a", "aac", 64, 44100, "MPEG-4 or QuickTime, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"96.m4a", "aac", 96, 44100, "MPEG-4 or QuickTime, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"128.m4a", "aac", 128, 44100, "MPEG-4 or QuickTime, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"a.mp4", "aac", 64, 44100, "MPEG-4 or QuickTime, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"a.3gp", "aac", 64, 44100, "MPEG-4 or QuickTime, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"a.aac", "aac", 64, 44100, "raw AAC, aac (LC), decoded by ffmpeg", true},
        ToldOfCoding{"a.webm", "libopus", 64, 48000, "WebM or Matroska, opus, decoded by ffmpeg", true},
        ToldOfCoding{"a.mka", "flac", 0, 44100, "WebM or Matroska, flac, decoded by ffmpeg", false},
        ToldOfCoding{"b.m4a", "alac", 0, 44100, "MPEG-4 or QuickTime, alac, decoded by ffmpeg", false},
        ToldOfCoding{"a.wma", "wmav2", 96, 44100, "Windows Media, wmav2, decoded by ffmpeg", true},
        ToldOfCoding{"a.wv", "wavpack", 0, 44100, "WavPack, wavpack, decoded by ffmpeg", std::nullopt},
        ToldOfCoding{"a.tta", "tta", 0, 44100, "tta, tta, decoded by ffmpeg", false}}) {
    const DecodedTake take = decoded(converted(name, codec, kbit_s));
    EXPECT_EQ(take.info.sample_rate_hz, rate_hz) << name;
    EXPECT_EQ(take.info.channels, 1) << name;
    EXPECT_NEAR(take.info.duration_s, 3.0, 0.1) << name;
    EXPECT_EQ(take.info.coding, coding) << name;
    EXPECT_EQ(take.info.lossy, lossy) << name;
    EXPECT_NEAR(amplitude_of(take), amplitude, 0.01 * amplitude) << name;
    EXPECT_TRUE(take.warnings.empty()) << name << ": " << take.warnings.front().message;
  }
}

TEST_F(Decoded, LosslessSamplesAreTheSame) {
  const DecodedTake original = decoded(tone());
  for (const auto& [name, codec] : {std::pair{"a.mka", "flac"}, {"a.m4a", "alac"}, {"a.mov", "pcm_s16le"}})
    EXPECT_EQ(decoded(converted(name, codec)).samples, original.samples) << codec;
}

TEST_F(Decoded, RatesAreTheFilesOwn) {
  for (const int rate_hz : {8000, 22050, 48000, 96000}) {
    convert_sound(tone("rate.wav", rate_hz), path_of("rate.m4a"), "aac", 64);
    const DecodedTake take = decoded(path_of("rate.m4a"));
    EXPECT_EQ(take.info.sample_rate_hz, rate_hz);
    EXPECT_NEAR(amplitude_of(take), amplitude, 0.01 * amplitude) << rate_hz;
  }
}

TEST_F(Decoded, OfTwoChannelsTheOneWithTheFluteIsUsed) {
  const auto flute = sine(tone_hz, amplitude, 44100, 3.0);
  test::write_file(path_of("two.wav"), interleave({std::vector<float>(flute.size(), 0.0f), flute}),
                   {wav_16_bit, 44100, 2, "", "", ""});
  convert_sound(path_of("two.wav"), path_of("two.m4a"), "aac", 96);
  const DecodedTake take = decoded(path_of("two.m4a"));
  EXPECT_EQ(take.info.channels, 2);
  EXPECT_EQ(take.info.channel_used, 1);
  EXPECT_NEAR(amplitude_of(take), amplitude, 0.01 * amplitude);
}

TEST_F(Decoded, DatesAreTheFilesOwn) {
  const std::string path =
      made("dated.m4a", {"-i", tone(), "-c:a", "aac", "-metadata", "creation_time=2024-05-01T12:30:45Z"});
  EXPECT_EQ(decoded(path).info.recorded_at, "2024-05-01T12:30:45Z");
}

TEST_F(Decoded, NamesMayLookLikeAnything) {
  const std::string take = converted("plain.m4a", "aac", 64);
  const std::size_t samples = decoded(take).samples.size();
  const auto before = std::filesystem::current_path();
  std::filesystem::current_path(path_of(""));
  for (const char* name :
       {"-i.m4a", "-", "--", "http:take.m4a", "concat:a|b.m4a", "New take.m4a", "Anna's \"take\".m4a", "take %03d.m4a",
        "a\nb.m4a", "caf\xc3\xa9 $(date) ;#&.m4a", "pipe:0", "file:x"}) {
    const std::string path = name == std::string("-") ? "./-" : name;  // "-" alone is standard input
    std::filesystem::copy_file(take, path);
    EXPECT_EQ(decoded(path).samples.size(), samples) << name;
  }
  std::filesystem::current_path(before);
}

TEST_F(Decoded, CutFilesAreUsedAsFarAsTheyGo) {
  const std::string whole = test::bytes_of(made("whole.m4a", {"-i", tone(), "-c:a", "aac", "-movflags", "+faststart"}));
  const DecodedTake cut = decoded(written("cut.m4a", std::string_view(whole).substr(0, whole.size() / 2)));
  EXPECT_GT(cut.info.duration_s, 0.5);
  EXPECT_LT(cut.info.duration_s, 2.5);
  ASSERT_EQ(cut.warnings.size(), 2U);
  EXPECT_EQ(cut.warnings[0].code, WarningCode::truncated);
  EXPECT_EQ(cut.warnings[1].code, WarningCode::damaged);
}

// Raw AAC has no header that tells its length: what is wrong is its last frame.
TEST_F(Decoded, CutFilesWithoutALengthAreCalledDamaged) {
  const std::string whole = test::bytes_of(converted("whole.aac", "aac", 64));
  const DecodedTake cut = decoded(written("cut.aac", std::string_view(whole).substr(0, whole.size() / 2)));
  ASSERT_EQ(cut.warnings.size(), 1U);
  EXPECT_EQ(cut.warnings[0].code, WarningCode::damaged);
}

// The index of the sound stands last where the telephone wrote it as it recorded.
TEST_F(Decoded, CutFilesWithoutTheirIndexAreRefusedInFfmpegsWords) {
  const std::string whole = test::bytes_of(converted("whole.m4a", "aac", 64));
  expect_refusal(written("cut.m4a", std::string_view(whole).substr(0, whole.size() / 2)),
                 "it is MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp), and ffmpeg cannot decode it (\"moov atom not "
                 "found\" and 1 more); copy it again, or export it as WAV or FLAC");
}

TEST_F(Decoded, VideosWithoutSoundAreRefused) {
  const std::string path = made("mute.mp4", {"-f", "lavfi", "-i", "testsrc=d=1:s=64x64", "-c:v", "mpeg4"});
  expect_refusal(path, "it holds pictures but no sound; record it again");
}

TEST_F(Decoded, VideosWithSoundAreHeard) {
  const std::string path =
      made("seen.mp4", {"-f", "lavfi", "-i", "testsrc=d=5:s=64x64", "-i", tone(), "-c:v", "mpeg4", "-c:a", "aac"});
  const DecodedTake take = decoded(path);
  EXPECT_NEAR(take.info.duration_s, 3.0, 0.1);
  EXPECT_NEAR(amplitude_of(take), amplitude, 0.01 * amplitude);
  EXPECT_TRUE(take.warnings.empty());  // the pictures go on longer, but no sound is missing
}

TEST_F(Decoded, SecondSoundTracksAreLeftOutAndThatIsSaid) {
  test::write_file(path_of("other.wav"), sine(300.0, 0.9, 44100, 3.0), {wav_16_bit, 44100, 1, "", "", ""});
  const std::string path =
      made("both.mka", {"-i", tone(), "-i", path_of("other.wav"), "-map", "0", "-map", "1", "-c:a", "flac"});
  const DecodedTake take = decoded(path);
  EXPECT_NEAR(amplitude_of(take), amplitude, 0.01 * amplitude);
  ASSERT_EQ(take.warnings.size(), 1U);
  EXPECT_EQ(take.warnings[0].code, WarningCode::more_sound_tracks);
}

TEST_F(Decoded, WhatIsNoSoundIsRefused) {
  const std::string why = "neither libsndfile nor ffmpeg can read it; copy it again, or export it as WAV or FLAC";
  expect_refusal(written("text.m4a", "D E F# G A B C# D\n"), why);
  expect_refusal(written("zeros.m4a", std::string(5000, '\0')), why);
  std::mt19937 random(3);
  std::string noise(20000, '\0');
  for (char& byte : noise) byte = static_cast<char>(random() % 256);
  expect_refusal(written("noise.m4a", noise), why);
}

// A list that ffmpeg would follow to other files or over the network is no take.
TEST_F(Decoded, ListsOfOtherFilesAreNotFollowed) {
  const std::string other = tone();
  const std::string why = "neither libsndfile nor ffmpeg can read it; copy it again, or export it as WAV or FLAC";
  expect_refusal(
      written("list.m3u8", "#EXTM3U\n#EXT-X-TARGETDURATION:3\n#EXTINF:3,\nfile:" + other + "\n#EXT-X-ENDLIST\n"), why);
  expect_refusal(written("list.m4a", "ffconcat version 1.0\nfile " + other + "\n"), why);
  expect_refusal(written("list.sdp", "v=0\no=- 0 0 IN IP4 127.0.0.1\nm=audio 5004 RTP/AVP 0\n"), why);
}

TEST_F(Decoded, WithoutFfmpegTheRemedyIsTheCommandThatConverts) {
  const std::string path = converted("New take.m4a", "aac", 64);
  const test::NoPrograms none(path_of(""));
  expect_refusal(path,
                 "it is MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp), which libsndfile does not read; install "
                 "ffmpeg, or convert it on a computer that has ffmpeg: ffmpeg -i '" +
                     path + "' take.flac");
  expect_refusal(written("text.m4a", "D E F#"),
                 "not a sound file libsndfile knows; record or export it as WAV or FLAC");
}

TEST_F(Decoded, RecordingsLeftHalfwayLeaveNothingBehind) {
  std::vector<float> minute = sine(tone_hz, amplitude, 44100, 60.0);
  test::write_file(path_of("minute.wav"), minute, {wav_16_bit, 44100, 1, "", "", ""});
  convert_sound(path_of("minute.wav"), path_of("minute.m4a"), "aac", 64);
  const std::size_t before = test::open_descriptors();
  for (int round = 0; round < 3; ++round) {
    Recording recording(path_of("minute.m4a"));
    std::vector<float> block(1000);
    EXPECT_EQ(recording.read(block), block.size());
  }
  EXPECT_EQ(test::open_descriptors(), before);
  EXPECT_EQ(waitpid(-1, nullptr, WNOHANG), -1);
  EXPECT_EQ(errno, ECHILD);
}

TEST_F(Decoded, SamplesAreTheSameOnManyThreads) {
  const std::string path = converted("tone.m4a", "aac", 64);
  const std::vector<float> alone = decoded(path).samples;
  std::vector<std::vector<float>> heard(6);
  {
    std::vector<std::jthread> threads;
    for (auto& samples : heard) threads.emplace_back([&] { samples = decoded(path).samples; });
  }
  for (const auto& samples : heard) EXPECT_EQ(samples, alone);
}

TEST_F(Decoded, DamagedFilesNeverBringTheReaderDown) {
  std::mt19937 random(5);
  for (const auto& [name, codec] : {std::pair{"a.m4a", "aac"}, {"a.webm", "libopus"}, {"a.aac", "aac"}}) {
    const std::string whole = test::bytes_of(converted(name, codec, 64));
    for (int round = 0; round < 8; ++round) {
      std::string bytes = whole;
      for (int change = 0; change < 5; ++change) bytes[random() % bytes.size()] = static_cast<char>(random() % 256);
      if (round % 3 == 0) bytes.resize(1 + random() % bytes.size());
      const std::string path = written(std::string("fuzzed") + name, bytes);
      if (why_refused(path) != "opened") continue;
      for (const float sample : decoded(path).samples) ASSERT_TRUE(std::isfinite(sample));
    }
  }
}

}  // namespace
}  // namespace windway
