// SPDX-License-Identifier: GPL-3.0-or-later
// A report of yesterday must not be taken for that of a run which made none.
#include <gtest/gtest.h>
#include <signal.h>

#include <chrono>
#include <filesystem>
#include <thread>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

struct EarlierReport : testing::Test {
  EarlierReport() { write_file(report, "yesterday"); }

  Words with_output(Words words) const {
    words.insert(words.end(), {"--output", report});
    return words;
  }
  void expect_removed(const Words& words, int status, bool is_said = true) const {
    write_file(report, "yesterday");
    const ProgramRun run = run_windway(with_output(words));
    EXPECT_EQ(run.exit_status, status) << run.err;
    EXPECT_FALSE(fs::exists(report)) << run.err;
    EXPECT_EQ(has(run.err, "windway: note: the earlier " + report + " is removed, as this run made no report\n"),
              is_said)
        << run.err;
  }

  ScratchFolder folder;
  std::string report = folder.path("bench.xml"), results = folder.path("r.jsonl");
};

TEST_F(EarlierReport, IsRemovedWhereTheCallHasAMistake) {
  write_file(folder.path("m.csv"), "take,serail\na.flac,1\n");
  write_file(folder.path("bad.toml"), "kind = 5\n");
  expect_removed({"batch", "--manifest", folder.path("m.csv")}, 2);
  expect_removed({"batch", take_with(""), "--instrument", folder.path("bad.toml")}, 2);
  expect_removed(batch_call({take_with(""), "--group-by", "lot"}), 2);
  expect_removed(batch_call({take_with(""), "--shard", "9/8"}), 2);
  expect_removed(batch_call({take_with(""), "--resume"}), 2);
  expect_removed(batch_call({take_with(""), "--format", "xml"}), 2);
  expect_removed(batch_call({take_with(""), "--no-such-option"}), 2);
  expect_removed({"summary"}, 2);
  EXPECT_EQ(folder.contents(), (Words{"bad.toml", "m.csv"}));
}

TEST_F(EarlierReport, IsRemovedWhereNoTakeIsThereOrResultsCannotBeReadOrWritten) {
  fs::create_directory(folder.path("empty"));
  expect_removed(batch_call({folder.path("empty")}), 3);
  expect_removed({"summary", folder.path("none.jsonl")}, 3);
  expect_removed(batch_call({take_with(""), "--results", folder.path("none/r.jsonl")}), 4);
  expect_removed(batch_call({take_with(""), "--results", "/dev/full"}), 4);
}

TEST_F(EarlierReport, IsRemovedWhereNoGroupIsSaidInTheResults) {
  ASSERT_EQ(run_windway(batch_call({take_with(""), "--results", results})).exit_status, 0);
  expect_removed({"summary", results, "--group-by", "lot"}, 2);
}

TEST_F(EarlierReport, IsReplacedWhereThereIsANewOne) {
  for (const Words& words : {batch_call({take_with("")}), batch_call({"missing.wav"})}) {
    const ProgramRun run = run_windway(with_output(words));
    EXPECT_EQ(run.err, "");
    EXPECT_TRUE(has(read_file(report), "<testsuites")) << read_file(report);
  }
}

TEST_F(EarlierReport, IsNeverAnInputOrARecording) {
  const std::string manifest = folder.path("m.csv"), take = folder.path("a.take"), sound = folder.path("old.wav");
  fs::copy_file(take_with(""), take);
  write_file(manifest, "take,serial\na.take,HW-1\n");
  write_file(sound, "sound");
  ASSERT_EQ(run_windway(batch_call({take, "--results", results})).exit_status, 0);
  const auto stays = [&](const std::string& file, const Words& words) {
    const std::string bytes = read_file(file);
    Words call = words;
    call.insert(call.end(), {"--output", file});
    EXPECT_EQ(run_windway(call).exit_status, 2);
    EXPECT_EQ(read_file(file), bytes) << file;
    EXPECT_FALSE(bytes.empty());
  };
  for (const std::string& file : {take, manifest, results}) {
    stays(file, batch_call({"--manifest", manifest, "--results", results}));
    stays(file, batch_call({"--manifest", manifest, "--results=" + results, take, "--no-such-option"}));
  }
  stays(results, {"summary", results});
  stays(results, batch_call({take, "--resume", "--results", results, "--group-by", "lot"}));
  stays(sound, batch_call({take, "--group-by", "lot"}));
  stays(sound, batch_call({take, "--no-such-option"}));
  stays(small_bench() + "/d-whistle.toml", batch_call({take, "--group-by", "lot"}));
}

TEST_F(EarlierReport, StaysWhereTheManifestIsOnlyChecked) {
  run_windway(with_output({"batch", "--manifest", folder.path("none.csv"), "--check-manifest"}));
  run_windway(with_output({"batch", "--check-manifest", "--no-such-option"}));
  EXPECT_EQ(read_file(report), "yesterday");
}

TEST_F(EarlierReport, StaysALinkToWhereTheNextOneGoes) {
  fs::create_symlink("bench.xml", folder.path("link"));
  run_windway(batch_call({take_with(""), "--group-by", "lot", "--output", folder.path("link")}));
  EXPECT_FALSE(fs::exists(report));
  EXPECT_EQ(run_windway(batch_call({take_with(""), "--output", folder.path("link")})).exit_status, 0);
  EXPECT_TRUE(fs::is_symlink(folder.path("link")));
  EXPECT_TRUE(has(read_file(report), "instrument"));
}

TEST_F(EarlierReport, IsNotThereWhileABatchIsAtWorkSoThatNoEndLeavesIt) {
  const std::string endless = folder.path("endless.wav"), err = folder.path("err");
  write_endless_take(endless);
  const auto is_gone = [&] {
    for (int wait = 0; wait < 3000 && fs::exists(report); ++wait)
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    return !fs::exists(report);
  };
  write_file(err, "");
  const WaitingProgram killed(with_output(batch_call({endless})), err);
  EXPECT_TRUE(is_gone());
  killed.send(SIGKILL);
  killed.exit_status();
  EXPECT_FALSE(fs::exists(report));
}

}  // namespace
}  // namespace windway::cli_tests
