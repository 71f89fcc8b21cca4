// SPDX-License-Identifier: GPL-3.0-or-later
// Two runs at once that write the same file: one of the two results stands there whole, or the second run refuses.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <thread>

#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "error.hpp"
#include "faults/written_results.hpp"
#include "results/results_file.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

constexpr int rounds = 6;

struct Ending {
  int exit_status = 0;
  std::string err;
};

struct TwoWriters : testing::Test {
  /// How both calls end, begun at the same time.
  std::vector<Ending> at_once(const Words& first, const Words& second) const {
    const std::string first_err = scratch.path("1"), second_err = scratch.path("2");
    write_file(first_err, "");
    write_file(second_err, "");
    const WaitingProgram one(first, first_err);
    const WaitingProgram two(second, second_err);
    const int one_status = one.exit_status(), two_status = two.exit_status();
    return {{one_status, unbroken(read_file(first_err))}, {two_status, unbroken(read_file(second_err))}};
  }

  ScratchFolder folder, scratch;
};

bool is_kept_off(const Ending& ending, const std::string& results) {
  return ending.exit_status == 4 &&
         ending.err == "windway: cannot write the results " + results +
                           ": another run of windway is writing it; wait for it, or name another file\n";
}

TEST_F(TwoWriters, OfTheSameResultsAreKeptApart) {
  const std::string results = folder.path("r.jsonl");
  const Words call = whole_bench_call({"--results", results});
  const int whole_status = run_windway(whole_bench_call()).exit_status;
  const auto whole = sorted_lines(read_file(on_desk("bench.jsonl")));
  for (int round = 0; round < rounds; ++round) {
    fs::remove(results);
    int done = 0;
    for (const Ending& ending : at_once(call, call)) {
      const bool came_too_late = ending.exit_status == 2 && has(ending.err, results + " has results already");
      done += ending.exit_status == whole_status ? 1 : 0;
      EXPECT_TRUE(ending.exit_status == whole_status || came_too_late || is_kept_off(ending, results)) << ending.err;
    }
    EXPECT_EQ(done, 1);
    EXPECT_EQ(sorted_lines(read_file(results)), whole);
    EXPECT_EQ(folder.contents(), Words{"r.jsonl"});
  }
}

TEST_F(TwoWriters, OfResultsThatBothGoOnWithAreKeptApart) {
  const std::string results = folder.path("r.jsonl");
  const auto call = [&](const char* tolerance) {
    return whole_bench_call({"--results", results, "--resume", "--tolerance", tolerance});
  };
  fs::copy_file(on_desk("bench.jsonl"), results);
  // Each tolerance of its own writes the file anew.
  int both_done = 0;
  for (int round = 0; round < rounds; ++round) {
    const auto endings = at_once(call("30"), call("20"));
    int kept_off = 0;
    for (const Ending& ending : endings) {
      kept_off += is_kept_off(ending, results) ? 1 : 0;
      EXPECT_TRUE(ending.exit_status == 3 || is_kept_off(ending, results)) << ending.exit_status << ending.err;
    }
    EXPECT_LE(kept_off, 1);
    both_done += kept_off == 0 ? 1 : 0;
    EXPECT_EQ(lines_of(read_file(results)).size(), 12U);
    EXPECT_EQ(folder.contents(), Words{"r.jsonl"});
  }
  EXPECT_LT(both_done, rounds);
  run_windway(whole_bench_call({"--results", results, "--resume"}));
  EXPECT_EQ(sorted_lines(read_file(results)), sorted_lines(read_file(on_desk("bench.jsonl"))));
}

TEST_F(TwoWriters, OfResultsStayApartWhileTheseArePutInOrder) {
  const std::string results = folder.path("r.jsonl");
  const std::string line = lines_of(read_file(on_desk("bench.jsonl"))).front() + "\n";
  write_file(results, line);
  ResultsFile file(results, true);
  int taken_over = 0;
  {
    const std::jthread other([&](const std::stop_token& stop) {
      while (!stop.stop_requested()) {
        try {
          const ResultsFile taken(results, true);
          ++taken_over;
        } catch (const Error&) {  // kept off, as it should be
        }
      }
    });
    for (int time = 0; time < 300; ++time) file.replace_with(1, [&](std::size_t) { return line; });
  }
  EXPECT_EQ(taken_over, 0);
  file.append(line);
  EXPECT_EQ(read_file(results), line + line);
}

TEST_F(TwoWriters, OfTheSameReportLeaveOneWhole) {
  const auto expect_one_whole = [&](const std::string& name, const Words& first, const Words& second) {
    const std::string place = folder.path(name);
    const auto to = [&](Words call) {
      call.insert(call.end(), {"--output", place});
      return call;
    };
    const int first_status = run_windway(to(first)).exit_status;
    const std::string first_content = read_file(place);
    const int second_status = run_windway(to(second)).exit_status;
    const std::string second_content = read_file(place);
    ASSERT_NE(first_content, second_content);
    for (int round = 0; round < rounds; ++round) {
      const auto endings = at_once(to(first), to(second));
      EXPECT_EQ(endings[0].exit_status, first_status) << endings[0].err;
      EXPECT_EQ(endings[1].exit_status, second_status) << endings[1].err;
      const std::string content = read_file(place);
      EXPECT_TRUE(content == first_content || content == second_content) << name;
    }
  };
  const auto measure = [](const char* take) {
    Words call{"measure", on_desk(take)};
    call.insert(call.end(), whistle_in_d.begin(), whistle_in_d.end());
    return call;
  };
  expect_one_whole("r.txt", measure("take.wav"), measure("moved.wav"));
  expect_one_whole("r.html", measure("take.wav"), measure("moved.wav"));
  expect_one_whole("b.html", batch_call({take_with("")}), batch_call({take_with("", 1)}));
  expect_one_whole("s.csv", {"summary", on_desk("bench.jsonl")},
                   {"summary", on_desk("bench.jsonl"), "--tolerance", "5"});
  expect_one_whole("d.flac", {"drone", "D5", "--seconds", "2"}, {"drone", "A5", "--seconds", "2"});
  EXPECT_EQ(folder.contents(), (Words{"b.html", "d.flac", "r.html", "r.txt", "s.csv"}));
}

TEST_F(TwoWriters, OfTheSameSheetsLeaveEachWhole) {
  const auto call = [&](const std::string& place) {
    return Words{"sheet", "--all", "--results", on_desk("bench.jsonl"), "--output", place};
  };
  run_windway(call(scratch.path("whole")));
  for (int round = 0; round < rounds / 2; ++round)
    for (const Ending& ending : at_once(call(folder.path("s")), call(folder.path("s"))))
      EXPECT_EQ(ending.exit_status, 0) << ending.err;
  std::size_t sheets = 0;
  for (const auto& entry : fs::directory_iterator(folder.path("s"))) {
    const std::string name = entry.path().filename().string();
    EXPECT_TRUE(read_file(entry.path().string()) == read_file(scratch.path("whole/" + name))) << name;
    ++sheets;
  }
  EXPECT_GE(sheets, 6U);
}

}  // namespace
}  // namespace windway::cli_tests
