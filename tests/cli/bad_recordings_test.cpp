// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <limits>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "support/noise.hpp"
#include "support/sound_file.hpp"
#include "support/text.hpp"
#include "support/tones.hpp"

namespace windway::cli_tests {
namespace {

constexpr double rate_hz = 48000.0;

ProgramRun measured(const std::string& path) {
  return run_windway({"measure", path, "--kind", "whistle", "--lowest", "D"});
}

/// A recording that cannot be measured: said on standard error with its name, nothing on standard output.
void expect_refused(const std::string& path, const std::string& said) {
  const ProgramRun run = measured(path);
  EXPECT_EQ(run.exit_status, 3) << path << "\n" << run.err;
  EXPECT_EQ(run.out, "") << path;
  EXPECT_TRUE(run.err.starts_with("windway: ")) << run.err;
  EXPECT_TRUE(has(run.err, path)) << run.err;
  EXPECT_TRUE(has(run.err, said)) << run.err;
}

TEST(BadRecording, ThatIsMissingIsNamed) { expect_refused("/no/such/take.wav", "no such file"); }

TEST(BadRecording, ThatIsAFolderIsRefused) {
  const ScratchFolder folder;
  expect_refused(folder.path(), "folder");
}

TEST(BadRecording, ThatIsEmptyIsRefused) {
  const ScratchFolder folder;
  write_file(folder.path("a.wav"), "");
  expect_refused(folder.path("a.wav"), "empty");
}

TEST(BadRecording, ThatIsTextIsRefusedWhateverItsName) {
  const ScratchFolder folder;
  write_file(folder.path("a.wav"), "Dear diary, today I played a scale.\n");
  expect_refused(folder.path("a.wav"), "neither libsndfile nor ffmpeg can read it");
}

// ISO/IEC 14496-12: the file type box "ftyp" with the brand that telephones write.
TEST(BadRecording, FromATelephoneSaysWhatItIs) {
  const ScratchFolder folder;
  write_file(folder.path("New take.m4a"), std::string("\0\0\0\x1c", 4) + "ftypM4A " + std::string(200, '\0'));
  expect_refused(folder.path("New take.m4a"), "MPEG-4 or QuickTime");
}

TEST(BadRecording, WithoutChannelsIsRefused) {
  const ScratchFolder folder;
  write_file(folder.path("a.wav"),
             wav_bytes({.channels = 0, .riff_bytes = 1036, .data_bytes = 1000}, std::string(1000, 1)));
  expect_refused(folder.path("a.wav"), "");
}

TEST(BadRecording, WithoutFramesIsRefused) {
  const ScratchFolder folder;
  write_file(folder.path("a.wav"), wav_bytes({}, ""));
  expect_refused(folder.path("a.wav"), "");
}

TEST(BadRecording, WithAbsurdSizesIsRefusedOrMeasuredAsFarAsItGoes) {
  const ScratchFolder folder;
  write_file(folder.path("rate.wav"),
             wav_bytes({.rate_hz = 4000000000U, .riff_bytes = 1036, .data_bytes = 1000}, std::string(1000, 1)));
  expect_refused(folder.path("rate.wav"), "");
  write_file(folder.path("channels.wav"),
             wav_bytes({.channels = 60000, .riff_bytes = 1036, .data_bytes = 1000}, std::string(1000, 1)));
  expect_refused(folder.path("channels.wav"), "");
  write_file(folder.path("size.wav"),
             wav_bytes({.riff_bytes = 0xFFFFFFF0U, .data_bytes = 0xFFFFFF00U}, std::string(1000, 1)));
  expect_refused(folder.path("size.wav"), "");
}

TEST(BadRecording, OfSilenceIsCalledSilent) {
  const ScratchFolder folder;
  synthesis::write_sound(folder.path("a.wav"), synthesis::silence(rate_hz, 3.0), rate_hz);
  expect_refused(folder.path("a.wav"), "silent");
}

TEST(BadRecording, OfNoiseHoldsNoNote) {
  const ScratchFolder folder;
  synthesis::Random random(7);
  const auto noise = synthesis::white_noise(static_cast<std::size_t>(5 * rate_hz), 0.1, random);
  synthesis::write_sound(folder.path("a.wav"), synthesis::to_float(noise), rate_hz);
  expect_refused(folder.path("a.wav"), "no held note");
}

TEST(BadRecording, OfTalkHoldsNoNote) {
  const ScratchFolder folder;
  synthesis::Random random(7);
  auto talk = synthesis::babble(10.0, rate_hz, random);
  for (double& sample : talk) sample *= 0.3;
  synthesis::write_sound(folder.path("a.wav"), synthesis::to_float(talk), rate_hz);
  expect_refused(folder.path("a.wav"), "no held note");
}

TEST(BadRecording, AmongGoodOnesIsNamedAndEndsTheWork) {
  const ScratchFolder folder;
  write_scale_take(folder.path("good.wav"));
  const ProgramRun run = run_windway({"measure", folder.path("good.wav"), folder.path("missing.wav")});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, "missing.wav"));
}

TEST(BadRecording, ThatBreaksOffIsMeasuredAsFarAsItGoesWithAWarning) {
  const ScratchFolder folder;
  write_scale_take(folder.path("whole.wav"));
  const std::string whole = read_file(folder.path("whole.wav"));
  write_file(folder.path("a.wav"), whole.substr(0, whole.size() / 2));
  const ProgramRun run = measured(folder.path("a.wav"));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "ends early")) << run.out;
}

TEST(BadRecording, WithSamplesThatAreNoNumbersIsSurvivedWithAWarning) {
  const ScratchFolder folder;
  auto samples = synthesis::steady_tone({.rate_hz = rate_hz, .duration_s = 2.0});
  samples[1000] = std::numeric_limits<float>::quiet_NaN();
  samples[2000] = std::numeric_limits<float>::infinity();
  // RIFF format 3, IEEE float: the samples' own bytes.
  std::string data(reinterpret_cast<const char*>(samples.data()), samples.size() * sizeof(float));
  const auto bytes = static_cast<unsigned>(data.size());
  std::string wav = wav_bytes({.bits = 32, .riff_bytes = 36 + bytes, .data_bytes = bytes}, data);
  wav[20] = 3;
  write_file(folder.path("a.wav"), wav);
  const ProgramRun run = measured(folder.path("a.wav"));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "not numbers")) << run.out;
}

}  // namespace
}  // namespace windway::cli_tests
