// SPDX-License-Identifier: GPL-3.0-or-later
// What windway does where the system gives no more memory, threads or descriptors.
#include <gtest/gtest.h>

#include <cstdint>
#include <nlohmann/json.hpp>

#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "faults/written_results.hpp"
#include "support/sound_file.hpp"
#include "support/text.hpp"
#include "support/tones.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

constexpr std::uint64_t mebibyte = std::uint64_t{1} << 20U;

/// The dynamic loader gave up before windway began.
bool was_not_loaded(const ProgramRun& run) {
  return run.exit_status == 127 || has(run.err, "error while loading shared libraries");
}

Words measure_call(const std::string& take) {
  Words call{"measure", take, "--format", "html"};
  call.insert(call.end(), whistle_in_d.begin(), whistle_in_d.end());
  return call;
}

/// The least address space, within 64 KiB, in which windway says its version.
std::uint64_t least_bytes_to_begin() {
  std::uint64_t too_little = mebibyte, enough = 1024 * mebibyte;
  while (enough - too_little > 64 * 1024) {
    const std::uint64_t middle = (too_little + enough) / 2;
    const bool begins = run_windway({"--version"}, {}, {.memory_bytes = middle}).exit_status == 0;
    (begins ? enough : too_little) = middle;
  }
  return enough;
}

bool can_limit_memory() {
  // AddressSanitizer reserves terabytes.
  return run_windway({"--version"}, {}, {.memory_bytes = 1024 * mebibyte}).exit_status == 0;
}

struct LittleMemory : testing::Test {
  void SetUp() override {
    if (!can_limit_memory()) GTEST_SKIP() << "this build of windway needs more address space than a limit leaves";
  }
};

TEST_F(LittleMemory, EndsAMeasurementWithOneSentence) {
  const std::uint64_t least = least_bytes_to_begin();
  constexpr std::uint64_t step = 16 * 1024;  // a program that asks for little at a time fails at each of its places
  int refused = 0, measured = 0;
  for (std::uint64_t more = 0; more < 24 * mebibyte && measured < 3; more += step) {
    SCOPED_TRACE(std::to_string(least + more) + " bytes");
    const ProgramRun run = run_windway(measure_call(on_desk("take.wav")), {}, {.memory_bytes = least + more});
    if (was_not_loaded(run)) continue;
    if (run.exit_status == 0) {
      ++measured;
      EXPECT_EQ(run.err, "");
      EXPECT_TRUE(has(run.out, "</html>"));
      continue;
    }
    ++refused;
    expect_one_complaint(run, 3, "there is not enough memory; close other programs");
    EXPECT_EQ(run.out, "");
  }
  EXPECT_GE(refused, 3);
  EXPECT_EQ(measured, 3);
}

/// A second of a note in the last of 64 channels at 192 kHz: deciding which of them to use takes 25 MB.
void write_wide_take(const std::string& path) {
  constexpr int channels = 64;
  constexpr double highest_rate_hz = 192000.0;
  const auto tone = synthesis::steady_tone({.rate_hz = highest_rate_hz});
  std::vector<float> samples(tone.size() * channels, 0.0F);
  for (std::size_t at = 0; at < tone.size(); ++at) samples[at * channels + channels - 1] = tone[at];
  synthesis::write_sound(path, samples, highest_rate_hz, channels);
}

TEST_F(LittleMemory, LeavesATakeOfABatchUnmeasuredAndGoesOn) {
  const ScratchFolder folder;
  const std::string wide = folder.path("wide.wav"), results = folder.path("r.jsonl");
  write_wide_take(wide);
  const Words others{take_with(""), take_with("", 1), take_with("", 2)};
  Words words = others;
  words.insert(words.begin() + 1, wide);
  words.insert(words.end(), {"--jobs", "1", "--results", results, "--resume"});
  const Words call = batch_call(words);
  Words alone = others;
  alone.insert(alone.end(), {"--jobs", "1"});
  std::uint64_t enough = least_bytes_to_begin();
  while (run_windway(batch_call(alone), {}, {.memory_bytes = enough}).exit_status != 0) enough += 2 * mebibyte;
  const ProgramRun run = run_windway(call, {}, {.memory_bytes = enough + 8 * mebibyte});
  EXPECT_EQ(run.exit_status, 3) << run.err;
  EXPECT_TRUE(has(run.out, "3 of 4 instruments pass, 1 was not measured")) << run.out;
  EXPECT_TRUE(has(unwrapped(run.out), "cannot measure " + wide + ": there is not enough memory; close other"))
      << run.out;
  EXPECT_EQ(run.err, "");
  // With more memory it is measured, and the others are not measured again.
  const ProgramRun resumed = run_windway(call);
  EXPECT_EQ(lines_of(read_file(results)).size(), 4U);
  for (const std::string& line : lines_of(read_file(results))) EXPECT_TRUE(Json::parse(line)["error"].is_null());
  EXPECT_FALSE(has(resumed.out, "memory")) << resumed.out;
}

TEST_F(LittleMemory, NeverEndsABatchByASignal) {
  const std::uint64_t least = least_bytes_to_begin();
  const Words call = batch_call({take_with(""), take_with("", 1), "--jobs", "2"});
  int ended = 0, went_on = 0, measured = 0;
  for (std::uint64_t more = 0; more < 256 * mebibyte && measured < 2; more += mebibyte / 8) {
    SCOPED_TRACE(std::to_string(least + more) + " bytes");
    const ProgramRun run = run_windway(call, {}, {.memory_bytes = least + more});
    if (run.exit_status == 0) {
      ++measured;
    } else if (run.out.empty()) {
      ++ended;
      expect_one_complaint(run, 3, "there is not enough memory");
    } else {
      ++went_on;
      EXPECT_EQ(run.exit_status, 3);
      EXPECT_TRUE(has(unwrapped(run.out), "there is not enough memory")) << run.out;
    }
  }
  EXPECT_GT(ended + went_on, 0);
  EXPECT_EQ(measured, 2);
}

TEST(FewDescriptors, EndTheWorkWithOneSentence) {
  int refused = 0;
  for (std::uint64_t most = 3; most < 16; ++most) {
    SCOPED_TRACE(most);
    const ProgramRun run = run_windway(measure_call(on_desk("take.wav")), {}, {.descriptors = most});
    if (was_not_loaded(run) || run.exit_status == 0) continue;
    ++refused;
    expect_one_complaint(run, 3, "take.wav: too many files are open");
  }
  EXPECT_GT(refused, 0);
}

}  // namespace
}  // namespace windway::cli_tests
