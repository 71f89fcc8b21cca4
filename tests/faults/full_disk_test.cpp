// SPDX-License-Identifier: GPL-3.0-or-later
// What every command does when the disk is full or may not be written.
#include <gtest/gtest.h>

#include <filesystem>
#include <functional>

#include "cli/small_bench.hpp"
#include "faults/small_disk.hpp"
#include "faults/written_results.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

/// On a small disk: each result where an earlier one lies, and where nothing does.
struct FaultyDisk : testing::Test {
  void SetUp() override {
    if (const std::string why = SmallDisk::why_none(); !why.empty()) GTEST_SKIP() << why;
    disk.emplace();
  }

  /// Runs the call once `harm` is done to the disk, where `earlier` lies (empty: nothing).
  ProgramRun harmed(const WrittenResult& result, const std::string& earlier, const std::function<void()>& harm,
                    const Limits& limits = {}) {
    disk.emplace();
    place = disk->path("r" + result.ending);
    if (!earlier.empty()) write_file(place, earlier);
    harm();
    return run_windway(result.call_to(place), {}, limits);
  }

  void expect_that_none_is_lost(const std::function<void()>& harm, const std::string& why, const Limits& limits = {}) {
    for (const WrittenResult& result : written_results()) {
      SCOPED_TRACE(result.name);
      const ProgramRun run = harmed(result, result.earlier, harm, limits);
      if (result.removes_earlier && run.exit_status == result.exit_status) {  // it made room for the new one
        EXPECT_TRUE(read_file(place) == run_windway(result.call).out);
        continue;
      }
      expect_one_complaint(run, 4, "cannot write " + place, why);
      EXPECT_EQ(run.out, "");
      if (result.removes_earlier && !fs::exists(place)) {
        EXPECT_TRUE(has(run.err, "note: the earlier " + place + " is removed")) << run.err;
      } else {
        EXPECT_TRUE(read_file(place) == result.earlier);
      }
      EXPECT_EQ(disk->contents(), fs::exists(place) ? Words{"r" + result.ending} : Words{});
    }
  }

  void expect_that_nothing_is_left(const std::function<void()>& harm, const std::string& why) {
    for (const WrittenResult& result : written_results()) {
      SCOPED_TRACE(result.name);
      const ProgramRun run = harmed(result, "", harm);
      expect_one_complaint(run, 4, "cannot write " + place, why);
      EXPECT_EQ(run.out, "");
      EXPECT_EQ(disk->contents(), Words{});
    }
  }

  std::optional<SmallDisk> disk;
  std::string place;
};

TEST_F(FaultyDisk, ThatIsFullLosesNoEarlierResult) {
  expect_that_none_is_lost([&] { disk->fill(0); }, "No space left on device");
}

TEST_F(FaultyDisk, ThatIsFullIsLeftAsItWas) {
  expect_that_nothing_is_left([&] { disk->fill(0); }, "No space left on device");
}

TEST_F(FaultyDisk, ThatMayNotBeWrittenLosesNoEarlierResult) {
  expect_that_none_is_lost([&] { disk->make_read_only(); }, "Read-only file system");
}

TEST_F(FaultyDisk, ThatMayNotBeWrittenIsSaidToBe) {
  expect_that_nothing_is_left([&] { disk->make_read_only(); }, "Read-only file system");
}

TEST_F(FaultyDisk, WhereFilesMayNotGrowLosesNoEarlierResult) {
  expect_that_none_is_lost([] {}, "File too large", {.file_bytes = 40});
}

TEST_F(FaultyDisk, WithRoomForAPartKeepsNoPart) {
  for (const WrittenResult& result : written_results()) {
    SCOPED_TRACE(result.name);
    const ProgramRun run = harmed(result, "", [&] { disk->fill(1); });
    if (run.exit_status == result.exit_status) {
      EXPECT_LE(fs::file_size(place), 4096U);  // it had room
    } else {
      expect_one_complaint(run, 4, "cannot write " + place, "No space left on device");
      EXPECT_EQ(disk->contents(), Words{});
    }
  }
}

TEST_F(FaultyDisk, KeepsTheResultsThatItHadRoomFor) {
  const std::string results = disk->path("r.jsonl");
  disk->fill(30);
  const ProgramRun run = run_windway(whole_bench_call({"--results", results}));
  expect_one_complaint(run, 4, "cannot write the results " + results, "No space left on device");
  EXPECT_EQ(run.out, "");
  EXPECT_EQ(disk->contents(), Words{"r.jsonl"});
  fs::remove(disk->path("filler"));
  EXPECT_EQ(
      run_windway(whole_bench_call({"--results", results, "--resume", "--output", disk->path("r.txt")})).exit_status,
      run_windway(whole_bench_call()).exit_status);
  EXPECT_EQ(sorted_lines(read_file(results)), sorted_lines(read_file(on_desk("bench.jsonl"))));
}

TEST_F(FaultyDisk, LosesNoResultsThatAreToBePutInOrder) {
  const std::string results = disk->path("r.jsonl");
  const Words takes{take_with(""), take_with("", 1), "--serial-from", "{serial}_{stage}_{retake}"};
  const auto call = [&](const Words& more) {
    Words words = batch_call(takes);
    words.insert(words.end(), more.begin(), more.end());
    return run_windway(words);
  };
  ASSERT_EQ(call({"--results", results}).exit_status, 0);
  const std::string before = read_file(results);
  // The takes count otherwise: the file is written anew.
  disk->fill(0);
  const ProgramRun full = call({"--results", results, "--resume", "--verdict-from", "all"});
  expect_one_complaint(full, 4, results, "No space left on device");
  EXPECT_EQ(read_file(results), before);
  EXPECT_EQ(disk->contents(), Words{"r.jsonl"});
  disk->make_read_only();
  const ProgramRun unwritable = call({"--results", results, "--resume"});
  expect_one_complaint(unwritable, 4, "cannot write the results " + results, "Read-only file system");
  EXPECT_EQ(unwritable.out, "");
  disk->make_writable();
  fs::remove(disk->path("filler"));
  EXPECT_EQ(call({"--results", results, "--resume"}).exit_status, 0);
  EXPECT_EQ(read_file(results), before);
}

TEST_F(FaultyDisk, FullForTheReportKeepsTheResults) {
  const ScratchFolder folder;
  const std::string results = folder.path("r.jsonl");
  disk->fill(0);
  const ProgramRun run = run_windway(whole_bench_call({"--results", results, "--output", disk->path("r.html")}));
  expect_one_complaint(run, 4, "cannot write " + disk->path("r.html"));
  EXPECT_EQ(sorted_lines(read_file(results)), sorted_lines(read_file(on_desk("bench.jsonl"))));
}

TEST_F(FaultyDisk, KeepsTheSheetsThatItHadRoomForWhole) {
  const ScratchFolder folder;
  const auto call = [&](const std::string& place) {
    return run_windway({"sheet", "--all", "--results", on_desk("bench.jsonl"), "--output", place});
  };
  ASSERT_EQ(call(folder.path("whole")).exit_status, 0);
  const std::string sheets = disk->path("sheets");
  disk->fill(30);
  const ProgramRun run = call(sheets);
  expect_one_complaint(run, 4, "cannot write " + sheets + "/", "No space left on device");
  std::size_t written = 0;
  for (const auto& entry : fs::directory_iterator(sheets)) {
    const std::string name = entry.path().filename().string();
    EXPECT_TRUE(read_file(entry.path().string()) == read_file(folder.path("whole/" + name))) << name;
    ++written;
  }
  EXPECT_GT(written, 0U);
  EXPECT_TRUE(run.out.starts_with(std::to_string(written) + " sheet")) << run.out;
}

TEST_F(FaultyDisk, ThatMayNotBeWrittenGetsNoFolderOfSheets) {
  fs::create_directory(disk->path("there"));
  disk->make_read_only();
  for (const std::string name : {"there", "new"}) {
    const ProgramRun run =
        run_windway({"sheet", "--all", "--results", on_desk("bench.jsonl"), "--output", disk->path(name)});
    expect_one_complaint(run, 4, disk->path(name));
  }
}

TEST_F(FaultyDisk, FullForTheCopyOfAPipeIsNamed) {
  disk->fill(0);
  for (const Words& call : {Words{"measure", "-"}, Words{"card", "-"}}) {
    Words words{"env", "TMPDIR=" + disk->path(), windway_program()};
    words.insert(words.end(), call.begin(), call.end());
    const ProgramRun run = run_program(words, {.in_path = on_desk("take.wav")});
    expect_one_complaint(run, 3, "cannot read standard input", disk->path() + " is full; set TMPDIR to a folder");
  }
  disk->make_read_only();
  const ProgramRun run = run_program({"env", "TMPDIR=" + disk->path(), windway_program(), "measure", "-"},
                                     {.in_path = on_desk("take.wav")});
  expect_one_complaint(run, 3, "cannot read standard input", "no temporary file can be made in " + disk->path());
}

}  // namespace
}  // namespace windway::cli_tests
