// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>

#include <chrono>
#include <filesystem>
#include <thread>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"

namespace windway::cli_tests {
namespace {

std::vector<std::string> measure_call(const std::string& take, const std::vector<std::string>& more) {
  std::vector<std::string> call{"measure", take};
  call.insert(call.end(), whistle_in_d.begin(), whistle_in_d.end());
  call.insert(call.end(), more.begin(), more.end());
  return call;
}

/// A folder with a take in it.
struct OutputFile : testing::Test {
  OutputFile() { write_one_note_take(take); }
  ScratchFolder folder;
  std::string take = folder.path("a.wav");
};

TEST_F(OutputFile, HoldsWhatStandardOutputWouldHave) {
  const ProgramRun printed = run_windway(measure_call(take, {"--format", "json"}));
  const ProgramRun written = run_windway(measure_call(take, {"--format", "json", "--output", folder.path("r.json")}));
  EXPECT_EQ(written.exit_status, 0) << written.err;
  EXPECT_EQ(written.out, "");
  EXPECT_EQ(read_file(folder.path("r.json")), printed.out);
  EXPECT_EQ(folder.contents(), (std::vector<std::string>{"a.wav", "r.json"}));
}

TEST_F(OutputFile, IsInTheFormThatItsNameSays) {
  write_scale_take(take);
  for (const auto& [name, begin] : std::vector<std::pair<std::string, std::string>>{
           {"r.html", "<!DOCTYPE html>"}, {"r.json", "{"}, {"r.svg", "<svg"}, {"r.csv", "note,"}, {"r.txt", "Draw"}}) {
    EXPECT_EQ(run_windway(measure_call(take, {"--output", folder.path(name)})).exit_status, 0) << name;
    EXPECT_TRUE(read_file(folder.path(name)).starts_with(begin)) << name << read_file(folder.path(name)).substr(0, 40);
  }
  run_windway(measure_call(take, {"--format", "csv", "--output", folder.path("r.json")}));
  EXPECT_TRUE(read_file(folder.path("r.json")).starts_with("note,"));  // what is said outranks the name
}

TEST_F(OutputFile, HasTheRightsThatAnyNewFileHas) {
  const mode_t mask = umask(022);
  run_windway(measure_call(take, {"--output", folder.path("r.txt")}));
  umask(mask);
  EXPECT_EQ(std::filesystem::status(folder.path("r.txt")).permissions(), std::filesystem::perms{0644});
}

TEST_F(OutputFile, KeepsTheOldContentWhereTheMeasurementFails) {
  write_file(folder.path("r.txt"), "old");
  const ProgramRun run = run_windway(measure_call(folder.path("missing.wav"), {"--output", folder.path("r.txt")}));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(read_file(folder.path("r.txt")), "old");
  EXPECT_EQ(folder.contents(), (std::vector<std::string>{"a.wav", "r.txt"}));
}

TEST_F(OutputFile, IsNotMadeWhereTheMeasurementFails) {
  run_windway(measure_call(folder.path("missing.wav"), {"--output", folder.path("r.txt")}));
  EXPECT_EQ(folder.contents(), std::vector<std::string>{"a.wav"});
}

TEST_F(OutputFile, ReplacesTheFileThatALinkLeadsTo) {
  write_file(folder.path("r.txt"), "old");
  std::filesystem::create_symlink("r.txt", folder.path("link"));
  EXPECT_EQ(run_windway(measure_call(take, {"--output", folder.path("link")})).exit_status, 0);
  EXPECT_TRUE(std::filesystem::is_symlink(folder.path("link")));
  EXPECT_NE(read_file(folder.path("r.txt")), "old");
}

TEST_F(OutputFile, ThatCannotBeWrittenIsSaidBeforeTheWork) {
  for (const std::string& place : {folder.path("none/r.txt"), folder.path()}) {
    // The recording is missing too: had the work begun, that would be the complaint.
    const ProgramRun run = run_windway(measure_call(folder.path("missing.wav"), {"--output", place}));
    EXPECT_EQ(run.exit_status, 4);
    EXPECT_EQ(run.out, "");
    EXPECT_EQ(run.err.find("windway: cannot write " + place), 0U) << run.err;
  }
}

TEST_F(OutputFile, OnAFullDiskFailsAndLeavesNothing) {
  const ProgramRun run = run_windway(measure_call(take, {"--output", "/dev/full"}));
  EXPECT_EQ(run.exit_status, 4);
  EXPECT_EQ(run.err.find("windway: cannot write /dev/full"), 0U) << run.err;
}

TEST_F(OutputFile, IsRemovedUnfinishedWhenInterrupted) {
  const WaitingProgram program(measure_call("-", {"--output", folder.path("r.txt")}));
  for (int wait = 0; wait < 500 && folder.contents().size() < 2; ++wait) {
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  ASSERT_EQ(folder.contents().size(), 2U);  // the unfinished output beside the take
  std::this_thread::sleep_for(std::chrono::milliseconds(50));
  program.send(SIGINT);
  EXPECT_EQ(program.exit_status(), 130);
  EXPECT_EQ(folder.contents(), std::vector<std::string>{"a.wav"});
}

TEST_F(OutputFile, NamedByADashIsStandardOutput) {
  const ProgramRun run = run_windway(measure_call(take, {"--output", "-"}));
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_NE(run.out, "");
}

struct StandardOutput : OutputFile {};

TEST_F(StandardOutput, ThatIsFullIsAnError) {
  const ProgramRun run = run_windway(measure_call(take, {}), {.out_path = "/dev/full"});
  EXPECT_EQ(run.exit_status, 4);
  EXPECT_EQ(run.err.find("windway: cannot write the result to standard output"), 0U) << run.err;
}

TEST_F(StandardOutput, WhoseReaderHasGoneEndsQuietly) {
  const ProgramRun run = run_windway(measure_call(take, {}), {.out_reader_has_gone = true});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.err, "");
}

}  // namespace
}  // namespace windway::cli_tests
