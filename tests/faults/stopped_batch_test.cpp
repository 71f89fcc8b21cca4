// SPDX-License-Identifier: GPL-3.0-or-later
// A batch that is killed, interrupted or runs out of disk, and what comes of it when it goes on.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <random>
#include <set>
#include <thread>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Clock = std::chrono::steady_clock;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

/// Waits till it holds, half a minute at most.
template <typename Condition>
bool comes_true(const Condition& condition) {
  for (const auto end = Clock::now() + std::chrono::seconds(30); Clock::now() < end;) {
    if (condition()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  return false;
}

/// Lines that are written to their end: a long one reaches the file in several writes.
std::size_t written_lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

bool holds_whole_lines(const std::string& text) { return text.empty() || text.ends_with('\n'); }

/// A results file, and the bench's own, unbroken.
struct StoppedBatch : testing::Test {
  StoppedBatch() {
    whole = run_windway(whole_bench_call({"--results", folder.path("whole.jsonl"), "--jobs", "2"}));
    whole_lines = sorted_lines(read_file(folder.path("whole.jsonl")));
  }

  Words call() const { return whole_bench_call({"--results", results, "--resume", "--jobs", "2"}); }

  std::size_t lines_done() const { return std::filesystem::exists(results) ? lines_of(read_file(results)).size() : 0; }

  /// Goes on and must come to the same as the unbroken run did.
  void expect_same_when_it_goes_on() const {
    const ProgramRun run = run_windway(call());
    EXPECT_EQ(run.exit_status, whole.exit_status);
    EXPECT_EQ(run.out, whole.out);
    const std::string text = read_file(results);
    EXPECT_TRUE(text.ends_with('\n'));
    EXPECT_EQ(sorted_lines(text), whole_lines);
  }

  ScratchFolder folder;
  std::string results = folder.path("r.jsonl");
  ProgramRun whole;
  std::vector<std::string> whole_lines;
};

/// What of the bench has a whole line; a line that is no result, or a second of a take, is a failure.
std::set<std::string> takes_done(const std::string& text) {
  std::set<std::string> takes;
  for (std::size_t begin = 0, feed = 0; (feed = text.find('\n', begin)) != std::string::npos; begin = feed + 1) {
    const Json line = Json::parse(text.substr(begin, feed - begin), nullptr, false);
    EXPECT_FALSE(line.is_discarded()) << text.substr(begin, 100);
    if (line.is_discarded()) continue;
    EXPECT_TRUE(takes.insert(line["takes"][0]["path"]).second);
  }
  return takes;
}

TEST_F(StoppedBatch, KilledAHundredTimesComesToTheSameResults) {
  ASSERT_EQ(whole_lines.size(), 12U);
  std::mt19937 random(20);
  std::uniform_int_distribution<std::size_t> lines(0, 11);
  std::uniform_real_distribution<double> milliseconds(0.0, 20.0);
  int killed_at_work = 0, killed_between = 0;
  for (int round = 0; round < 100; ++round) {
    // By another tolerance now and then: what is there is dropped, and the file is written anew.
    Words words = call();
    if (random() % 2 == 0) words.insert(words.end(), {"--tolerance", "30"});
    const std::string before = std::filesystem::exists(results) ? read_file(results) : "";
    const WaitingProgram program(words);
    // Some lines and some time: by time alone a busy machine can put every moment behind the end.
    const std::size_t awaited = random() % 4 == 0 ? 0 : lines(random);
    comes_true([&] {
      return program.has_ended() || awaited == 0 || (lines_done() >= awaited && read_file(results) != before);
    });
    std::this_thread::sleep_for(std::chrono::duration<double, std::milli>(milliseconds(random)));
    program.send(SIGKILL);
    killed_at_work += program.exit_status() == 1000 + SIGKILL ? 1 : 0;
    const std::size_t done = takes_done(read_file(results)).size();
    killed_between += done > 0 && done < 12 ? 1 : 0;
    if (HasFailure()) FAIL() << "in round " << round << ", killed with " << done << " lines done";
  }
  EXPECT_GE(killed_at_work, 50);
  EXPECT_GE(killed_between, 20);
  expect_same_when_it_goes_on();
  EXPECT_EQ(takes_done(read_file(results)).size(), 12U);
}

TEST_F(StoppedBatch, CutOffWithinALineComesToTheSameResults) {
  const std::string text = read_file(folder.path("whole.jsonl"));
  const std::size_t second = text.find('\n') + 1;
  for (const std::size_t length : {std::size_t{1}, second - 1, second, second + 1, second + 5000, text.size() - 1}) {
    write_file(results, text.substr(0, length));
    expect_same_when_it_goes_on();
  }
}

TEST_F(StoppedBatch, OnAFullDiskEndsWithStatusFourAndGoesOnOnceThereIsRoom) {
  // The limit on the size of a file stands for the disk.
  Words limited{"prlimit", "--fsize=100000", windway_program()};
  const Words own = call();
  limited.insert(limited.end(), own.begin(), own.end());
  const ProgramRun run = run_program(limited);
  EXPECT_EQ(run.exit_status, 4);
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, "cannot write the results " + results)) << run.err;
  const std::string text = read_file(results);
  EXPECT_EQ(text.size(), 100000U);
  EXPECT_FALSE(holds_whole_lines(text));
  expect_same_when_it_goes_on();
}

/// With a take in the list that does not end while the test lasts.
struct EndlessBatch : testing::Test {
  EndlessBatch() { write_endless_take(endless); }
  Words call(const Words& more = {}) const {
    Words words = batch_call({take_with(""), take_with("", 1), endless, "--jobs", "1"});
    words.insert(words.end(), more.begin(), more.end());
    return words;
  }
  bool holds_lines(std::size_t count) const {
    return comes_true([&] { return std::filesystem::exists(results) && written_lines(read_file(results)) == count; });
  }
  /// Both takes before it are done.
  bool has_begun_the_endless_take() const {
    const bool are_done = holds_lines(2);
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    return are_done;
  }
  ScratchFolder folder;
  std::string results = folder.path("r.jsonl"), endless = folder.path("endless.wav");
};

TEST_F(EndlessBatch, EndsAtOnceAtTheSecondInterrupt) {
  const WaitingProgram program(call({"--results", results, "--output", folder.path("report")}));
  ASSERT_TRUE(has_begun_the_endless_take());
  program.send(SIGINT);
  std::this_thread::sleep_for(std::chrono::milliseconds(300));
  EXPECT_FALSE(program.has_ended());  // what was begun is finished
  program.send(SIGINT);
  EXPECT_TRUE(comes_true([&] { return program.has_ended(); }));
  EXPECT_EQ(program.exit_status(), 130);
  EXPECT_TRUE(holds_whole_lines(read_file(results)));
  EXPECT_EQ(folder.contents(), (Words{"endless.wav", "r.jsonl"}));  // no unfinished report
}

TEST_F(EndlessBatch, KeepsAnotherRunOffItsResults) {
  const WaitingProgram program(call({"--results", results}));
  ASSERT_TRUE(holds_lines(2));
  const std::string kept = read_file(results);
  const ProgramRun run = run_windway(batch_call({take_with("", 2), "--results", results, "--resume"}));
  EXPECT_EQ(run.exit_status, 4);
  EXPECT_TRUE(has(run.err, "another run of windway is writing it")) << run.err;
  EXPECT_EQ(read_file(results), kept);
  program.send(SIGKILL);
  program.exit_status();
  EXPECT_EQ(run_windway(batch_call({take_with("", 2), "--results", results, "--resume"})).exit_status, 0);
  EXPECT_EQ(lines_of(read_file(results)).size(), 3U);
}

/// Forty-eight takes: a second or so of work.
struct LongBatch : testing::Test {
  LongBatch() {
    std::filesystem::create_directory(folder.path("takes"));
    for (int copy = 0; copy < 8; ++copy)
      for (const std::string& take : good_takes())
        std::filesystem::copy_file(
            take, folder.path("takes/" + std::to_string(copy) + std::filesystem::path(take).filename().string()));
    write_file(err, "");
  }
  Words call() const { return batch_call({folder.path("takes"), "--results", results, "--resume", "--jobs", "2"}); }
  ScratchFolder folder;
  std::string results = folder.path("r.jsonl"), err = folder.path("err");
};

TEST_F(LongBatch, InterruptedFinishesWhatWasBegunAndSaysHowToGoOn) {
  for (const auto& [signal_number, status] : {std::pair{SIGINT, 130}, {SIGTERM, 143}}) {
    std::filesystem::remove(results);
    write_file(err, "");
    const WaitingProgram program(call(), err);
    ASSERT_TRUE(
        comes_true([&] { return std::filesystem::exists(results) && std::filesystem::file_size(results) > 0; }));
    program.send(signal_number);
    EXPECT_EQ(program.exit_status(), status);
    const std::string text = read_file(results);
    ASSERT_TRUE(holds_whole_lines(text));
    const auto lines = lines_of(text);
    EXPECT_LT(lines.size(), 48U);
    for (const std::string& line : lines) EXPECT_EQ(Json::parse(line)["verdict"]["result"], "pass");
    EXPECT_EQ(unbroken(read_file(err)), "windway: interrupted: " + std::to_string(lines.size()) +
                                            " of 48 takes are done and kept; go on with --results " + results +
                                            " --resume\n");
  }
  EXPECT_EQ(run_windway(call()).exit_status, 0);
  EXPECT_EQ(lines_of(read_file(results)).size(), 48U);
}

}  // namespace
}  // namespace windway::cli_tests
