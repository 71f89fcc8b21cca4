// SPDX-License-Identifier: GPL-3.0-or-later
// Recordings as telephones make them, with and without the ffmpeg program.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>

#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <thread>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "support/ffmpeg.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

Words measure_call(const std::string& take) {
  Words words{"measure", take, "--fully-in", "--format", "json"};
  words.insert(words.end(), whistle_in_d.begin(), whistle_in_d.end());
  return words;
}

/// windway with one folder as its PATH.
ProgramRun run_with_path(const std::string& folder, const Words& arguments) {
  Words words{"/usr/bin/env", "PATH=" + folder, windway_program()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return run_program(words);
}

struct Telephone : testing::Test {
  void SetUp() override {
    if (!synthesis::has_ffmpeg()) GTEST_SKIP() << "ffmpeg is not installed";
  }
  /// The whistle's scale, lossless and as a telephone keeps it.
  std::string scale() const {
    write_scale_take(folder.path("scale.wav"));
    return folder.path("scale.wav");
  }
  std::string telephone_take(const std::string& name) const {
    synthesis::convert_sound(scale(), folder.path(name), name.ends_with(".webm") ? "libopus" : "aac", 64);
    return folder.path(name);
  }
  ScratchFolder folder;
};

TEST_F(Telephone, TakesMeasureAsTheirLosslessTwins) {
  const Json lossless = Json::parse(run_windway(measure_call(scale())).out);
  for (const std::string name : {"New take.m4a", "-a.3gp", "a.webm", "it's \"a\".mp4"}) {
    const ProgramRun run = run_windway(measure_call(telephone_take(name)));
    ASSERT_EQ(run.exit_status, 0) << run.err;
    const Json found = Json::parse(run.out);
    EXPECT_EQ(found["takes"][0]["lossy"], true);
    EXPECT_EQ(lossless["takes"][0]["lossy"], false);
    EXPECT_TRUE(has(found["takes"][0]["coding"], "decoded by ffmpeg")) << found["takes"][0]["coding"];
    ASSERT_EQ(found["notes"].size(), lossless["notes"].size());
    for (std::size_t note = 0; note < found["notes"].size(); ++note)
      EXPECT_NEAR(found["notes"][note]["moderate_cents"].get<double>(),
                  lossless["notes"][note]["moderate_cents"].get<double>(), 0.05)
          << name << found["notes"][note]["note"];
    EXPECT_NEAR(found["compromise"]["slide_mm"].get<double>(), lossless["compromise"]["slide_mm"].get<double>(), 0.01);
  }
}

TEST_F(Telephone, TakesMayComeOnStandardInput) {
  const std::string take = telephone_take("a.m4a");
  const Json named = Json::parse(run_windway(measure_call(take)).out);
  const ProgramRun run = run_windway(measure_call("-"), {.in_path = take});
  ASSERT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(Json::parse(run.out)["notes"], named["notes"]);
}

TEST_F(Telephone, TakesWithoutFfmpegComeWithTheCommandThatConvertsThem) {
  const std::string take = telephone_take("New take.m4a");
  const ProgramRun run = run_with_path(folder.path(), measure_call(take));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, "install ffmpeg")) << run.err;
  EXPECT_TRUE(has(run.err, "ffmpeg -i '" + take + "' take.flac")) << run.err;
}

TEST_F(Telephone, TakesOfAFolderAreMeasuredOrSaidNotToBe) {
  std::filesystem::create_directory(folder.path("bench"));
  for (const std::string name :
       {"bench/a.m4a", "bench/b.webm", "bench/c.3gp", "bench/d.aac", "bench/e.m4a", "bench/f.mp4"})
    synthesis::convert_sound(take_with(""), folder.path(name), name.ends_with(".webm") ? "libopus" : "aac", 96);
  const Words call = batch_call({folder.path("bench"), "--format", "jsonl", "--jobs"});
  const auto with_jobs = [&](const std::string& jobs) {
    Words words = call;
    words.push_back(jobs);
    return words;
  };
  const ProgramRun one = run_windway(with_jobs("1")), many = run_windway(with_jobs("6"));
  EXPECT_EQ(one.exit_status, 0) << one.err;
  EXPECT_EQ(one.out, many.out);
  ASSERT_EQ(lines_of(one.out).size(), 6U);
  for (const std::string& line : lines_of(one.out)) EXPECT_EQ(Json::parse(line)["verdict"]["result"], "pass");
  const ProgramRun without = run_with_path(folder.path(), with_jobs("2"));
  EXPECT_EQ(without.exit_status, 3);
  ASSERT_EQ(lines_of(without.out).size(), 6U);
  for (const std::string& line : lines_of(without.out)) {
    EXPECT_EQ(Json::parse(line)["verdict"]["result"], "not_measured");
    EXPECT_TRUE(has(Json::parse(line)["error"], "install ffmpeg")) << line;
  }
}

TEST_F(Telephone, DamageThatFfmpegMeetsIsPassedOn) {
  const std::string whole = read_file(telephone_take("a.aac"));
  write_file(folder.path("cut.aac"), whole.substr(0, whole.size() - 100));
  const ProgramRun run = run_windway(measure_call(folder.path("cut.aac")));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  const Json warning = Json::parse(run.out)["warnings"][0];
  EXPECT_EQ(warning["code"], "damaged");
  EXPECT_TRUE(has(warning["message"], "is damaged")) << warning["message"];
}

/// A program of that name in a folder of its own, in place of the real one.
struct FakeFfmpeg : testing::Test {
  FakeFfmpeg() {
    write_file(folder.path("take.m4a"), std::string("\0\0\0\x1c", 4) + "ftypM4A " + std::string(200, '\0'));
    std::filesystem::create_directory(folder.path("bin"));
  }
  void does(const std::string& commands) const {
    write_file(folder.path("bin/ffmpeg"), "#!/bin/sh\nPATH=/usr/bin:/bin\n" + commands);
    chmod(folder.path("bin/ffmpeg").c_str(), 0755);
  }
  ProgramRun run() const { return run_with_path(folder.path("bin"), measure_call(folder.path("take.m4a"))); }
  ScratchFolder folder;
};

template <typename Condition>
bool comes_true(const Condition& condition) {
  for (int i = 0; i < 30000; ++i) {
    if (condition()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  return false;
}

TEST_F(FakeFfmpeg, NeverSeesTheNameOfTheTake) {
  does("printf '%s\\n' \"$@\" > " + folder.path("words") + "; exit 1");
  EXPECT_EQ(run().exit_status, 3);
  const std::string words = read_file(folder.path("words"));
  EXPECT_TRUE(has(words, "-nostdin\n")) << words;
  EXPECT_TRUE(has(words, "-protocol_whitelist\nfile,pipe\n")) << words;
  EXPECT_TRUE(has(words, "-i\nfile:/dev/stdin\n")) << words;
  EXPECT_FALSE(has(words, "take.m4a")) << words;
}

TEST_F(FakeFfmpeg, ThatWritesSomethingElseIsStoppedAndTheTakeRefused) {
  does("echo $$ > " + folder.path("pid") + "; head -c 1000 /dev/zero; echo '[error] odd' >&2; exec sleep 1000");
  const ProgramRun refused = run();
  EXPECT_EQ(refused.exit_status, 3);
  EXPECT_TRUE(has(refused.err, "ffmpeg cannot decode it")) << refused.err;
  EXPECT_EQ(kill(std::stoi(read_file(folder.path("pid"))), 0), -1);
}

TEST_F(FakeFfmpeg, IsKilledByAnInterrupt) {
  // Sun audio's header and then silence for a quarter of an hour.
  does(
      "echo $$ > " + folder.path("pid.part") + "; mv " + folder.path("pid.part") + " " + folder.path("pid") +
      "; printf '.snd\\0\\0\\0\\030\\377\\377\\377\\377\\0\\0\\0\\006\\0\\0\\254\\104\\0\\0\\0\\001'; exec sleep 1000");
  for (const int signal_number : {SIGINT, SIGTERM}) {
    std::filesystem::remove(folder.path("pid"));
    const std::string path = std::getenv("PATH");
    setenv("PATH", folder.path("bin").c_str(), 1);
    const WaitingProgram program(measure_call(folder.path("take.m4a")));
    setenv("PATH", path.c_str(), 1);
    ASSERT_TRUE(comes_true([&] { return std::filesystem::exists(folder.path("pid")); }));
    const int pid = std::stoi(read_file(folder.path("pid")));
    EXPECT_FALSE(program.has_ended());
    program.send(signal_number);
    EXPECT_EQ(program.exit_status(), 128 + signal_number);
    // Whoever adopts it reaps it.
    EXPECT_TRUE(comes_true(
        [&] { return kill(pid, 0) != 0 || has(read_file("/proc/" + std::to_string(pid) + "/stat"), ") Z "); }));
  }
}

}  // namespace
}  // namespace windway::cli_tests
