// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <sndfile.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <random>
#include <vector>

#include "no_programs.hpp"
#include "recording/recording.hpp"
#include "why_refused.hpp"
#include "written_file.hpp"

// libsndfile 1.2 does not free what libvorbis set up where it refuses a damaged Ogg file.
// NOLINTBEGIN(bugprone-reserved-identifier,readability-identifier-naming): the leak checker asks for this name.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:vorbis_info_init\n"; }
// NOLINTEND(bugprone-reserved-identifier,readability-identifier-naming)

namespace windway {
namespace {

using std::string_view_literals::operator""sv;
using test::FileFormat;
using test::sine;
using test::why_refused;

constexpr int wav16 = SF_FORMAT_WAV | SF_FORMAT_PCM_16;

struct Outcome {
  std::size_t samples = 0;
  Warnings warnings;
};

Outcome read_to_its_end(const std::string& path) {
  Recording recording(path);
  Outcome outcome;
  std::vector<float> block(4096);
  while (const std::size_t count = recording.read(block)) outcome.samples += count;
  outcome.warnings = recording.warnings();
  return outcome;
}

class BadFile : public testing::Test {
 protected:
  std::string written(std::string_view name, std::string_view bytes) {
    test::write_bytes(folder_.path_of(name), bytes);
    return folder_.path_of(name);
  }
  std::string sound(std::string_view name, const FileFormat& format, double duration_s = 1.0) {
    std::vector<float> samples;
    for (const float sample : sine(587.33, 0.5, format.rate_hz, duration_s)) {
      samples.insert(samples.end(), static_cast<std::size_t>(format.channels), sample);
    }
    test::write_file(folder_.path_of(name), samples, format);
    return folder_.path_of(name);
  }
  void expect_refusal(const std::string& path, const std::string& why) {
    EXPECT_EQ(why_refused(path), "cannot read " + path + ": " + why);
  }

  test::TemporaryFolder folder_;
  test::NoPrograms none_{folder_.path_of("")};  // what ffmpeg can do for a file is in decoder_test.cpp
};

TEST_F(BadFile, IsNamedWithTheRemedyWhereItCannotBeOpened) {
  expect_refusal(folder_.path_of("none.wav"), "there is no such file; check its name and its folder");
  expect_refusal(folder_.path_of(""), "it is a folder; name the sound files in it");
  expect_refusal(written("empty.wav", ""), "it is empty; record or copy it again");
}

TEST_F(BadFile, IsNamedWithTheRemedyWhereThereIsNoPermission) {
  const std::string path = sound("locked.wav", {wav16, 48000, 1, "", "", ""});
  chmod(folder_.path_of("").c_str(), 0755);
  chmod(path.c_str(), 0);
  const bool almighty = geteuid() == 0;  // to whom nothing is forbidden
  if (almighty) {
    ASSERT_EQ(seteuid(65534), 0);
  }
  const std::string message = why_refused(path);
  if (almighty) {
    ASSERT_EQ(seteuid(0), 0);
  }
  EXPECT_EQ(message,
            "cannot read " + path +
                ": you have no permission to read it; change its permissions or copy it to a folder of your own");
}

TEST_F(BadFile, IsRefusedWhereItIsNoSound) {
  const std::string why = "not a sound file libsndfile knows; record or export it as WAV or FLAC";
  expect_refusal(written("text.wav", "D E F# G A B C# D\n"), why);
  expect_refusal(written("zeros.wav", std::string(5000, '\0')), why);
  expect_refusal(written("short.flac", "fLaC"), why);
}

TEST_F(BadFile, CarriesTheCommandThatConvertsATelephonesRecording) {
  const std::string path = written("Anna's take.wav",
                                   "\0\0\0\x20"
                                   "ftypM4A \0\0\0\0M4A mp42isom"sv);
  std::string quoted = path;
  quoted.replace(quoted.find('\''), 1, R"('\'')");
  expect_refusal(path,
                 "it is MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp), which libsndfile does not read; install "
                 "ffmpeg, or convert it on a computer that has ffmpeg: ffmpeg -i '" +
                     quoted + "' take.flac");
}

TEST_F(BadFile, IsRefusedWhereItsRateOrItsChannelsCannotBeUsed) {
  expect_refusal(sound("low.wav", {wav16, 6000, 1, "", "", ""}),
                 "its sample rate is 6000 Hz, too low for a flute; record at 44100 or 48000 Hz");
  expect_refusal(sound("high.wav", {wav16, 384000, 1, "", "", ""}, 0.1),
                 "its sample rate is 384000 Hz, above 192000; export it at 48000 or 96000 Hz");
  expect_refusal(sound("many.wav", {wav16, 48000, 65, "", "", ""}, 0.01),
                 "its header says 65 channels, more than 64; export one channel, or record it again");
  expect_refusal(sound("nothing.wav", {wav16, 48000, 1, "", "", ""}, 0.0),
                 "it holds no sound (no frames at all); record or export it again");
  EXPECT_EQ(why_refused(sound("wide.wav", {wav16, 48000, 64, "", "", ""}, 0.1)), "opened");
}

TEST_F(BadFile, IsRefusedWhereItsHeaderSaysNoChannels) {
  std::string bytes = test::bytes_of(sound("zero.wav", {wav16, 48000, 1, "", "", ""}));
  bytes[22] = 0;  // the channels, in the fmt chunk
  EXPECT_NE(why_refused(written("zero.wav", bytes)), "opened");
}

TEST_F(BadFile, IsUsedAsFarAsItGoesWhereItWasCut) {
  for (const int format : {wav16, SF_FORMAT_AIFF | SF_FORMAT_PCM_16, SF_FORMAT_W64 | SF_FORMAT_PCM_16,
                           SF_FORMAT_RF64 | SF_FORMAT_PCM_16, SF_FORMAT_FLAC | SF_FORMAT_PCM_16}) {
    const std::string bytes = test::bytes_of(sound("whole", {format, 48000, 1, "", "", ""}, 4.0));
    const Outcome outcome = read_to_its_end(written("cut", std::string_view(bytes).substr(0, bytes.size() / 2)));
    EXPECT_GT(outcome.samples, 16000u) << std::hex << format;
    EXPECT_LT(outcome.samples, 40000u) << std::hex << format;
    ASSERT_EQ(outcome.warnings.size(), 1u) << std::hex << format;
    EXPECT_EQ(outcome.warnings[0].code, WarningCode::truncated);
  }
}

TEST_F(BadFile, IsNotCalledCutWhereItCameThroughAPipe) {
  std::string bytes = test::bytes_of(sound("whole.wav", {wav16, 48000, 1, "", "", ""}));
  const std::size_t data = bytes.find("data");
  for (const std::size_t at : {std::size_t{4}, data + 4}) bytes.replace(at, 4, "\xff\xff\xff\xff");
  const Outcome outcome = read_to_its_end(written("piped.wav", bytes));
  EXPECT_EQ(outcome.samples, 16000u);
  EXPECT_TRUE(outcome.warnings.empty());
}

TEST_F(BadFile, IsCopiedFromAPipe) {
  const std::string pipe = folder_.path_of("pipe");
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  const std::string bytes =
      test::bytes_of(sound("whole.flac", {SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 48000, 1, "", "", ""}));
  const pid_t writer = fork();
  if (writer == 0) {
    test::write_bytes(pipe, bytes);
    _exit(0);
  }
  EXPECT_EQ(read_to_its_end(pipe).samples, 16000u);
  EXPECT_EQ(waitpid(writer, nullptr, 0), writer);
}

// Headers with a few bytes changed at random, the same for every run: whatever they say, the answer is an Error or a
// take no longer than the file can hold (64 samples a byte: FLAC and Vorbis pack silence tightly).
TEST_F(BadFile, NeverBringsTheReaderDown) {
  std::mt19937 random(1);
  std::size_t opened = 0;
  for (const int format :
       {wav16, SF_FORMAT_WAV | SF_FORMAT_IMA_ADPCM, SF_FORMAT_AIFF | SF_FORMAT_PCM_24, SF_FORMAT_W64 | SF_FORMAT_FLOAT,
        SF_FORMAT_RF64 | SF_FORMAT_PCM_16, SF_FORMAT_CAF | SF_FORMAT_PCM_16, SF_FORMAT_FLAC | SF_FORMAT_PCM_16,
        SF_FORMAT_OGG | SF_FORMAT_VORBIS}) {
    const std::string whole = test::bytes_of(sound("whole", {format, 44100, 1, "", "", ""}, 0.2));
    for (int round = 0; round < 60; ++round) {
      std::string bytes = whole;
      for (int change = 0; change < 3; ++change) {
        bytes[random() % std::min<std::size_t>(120, bytes.size())] = static_cast<char>(random() % 256);
      }
      if (round % 4 == 0) bytes.resize(1 + random() % bytes.size());
      const std::string path = written("fuzzed", bytes);
      if (why_refused(path) != "opened") continue;
      ++opened;
      EXPECT_LT(read_to_its_end(path).samples, 64 * bytes.size() + 1000);
    }
  }
  EXPECT_GT(opened, 100u);
}

}  // namespace
}  // namespace windway
