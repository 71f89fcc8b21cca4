// SPDX-License-Identifier: GPL-3.0-or-later
// Closed standard streams, pipes, devices, and files that must not be replaced.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <cctype>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

/// Runs a command of bash in which $W is windway.
ProgramRun run_in_bash(const std::string& command) {
  return run_program({"bash", "--norc", "-c", "W=$0; " + command, windway_program()});
}

/// A take of a whistle, and what is known of the whistle, for bash.
struct Streams : testing::Test {
  Streams() { write_scale_take(take); }
  std::string in_folder(const std::string& command) const {
    return "cd " + folder.path() + "; F='--kind whistle --lowest D5'; " + command;
  }
  ScratchFolder folder;
  std::string take = folder.path("a.wav");
};

TEST_F(Streams, ThatAreClosedPutNoReportIntoTheResults) {
  const ProgramRun run = run_in_bash(in_folder("$W batch a.wav $F --results r.jsonl >&-"));
  EXPECT_EQ(run.exit_status, 4) << run.err;
  EXPECT_TRUE(has(run.err, "cannot write the result to standard output")) << run.err;
  const auto lines = lines_of(read_file(folder.path("r.jsonl")));
  ASSERT_EQ(lines.size(), 1U);
  EXPECT_TRUE(lines[0].starts_with("{")) << lines[0];
}

TEST_F(Streams, ThatAreClosedPutNoWarningIntoTheOutput) {
  const ProgramRun run = run_in_bash(in_folder("$W measure a.wav --format csv --output o.csv 2>&- <&-"));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  const std::string csv = read_file(folder.path("o.csv"));
  EXPECT_TRUE(csv.starts_with("note,midi,")) << csv;
  EXPECT_FALSE(has(csv, "windway:")) << csv;
}

TEST_F(Streams, StandardInputThatIsClosedIsSaidToBe) {
  const ProgramRun run = run_in_bash(in_folder("$W measure - $F <&-"));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_TRUE(has(run.err, "standard input: it is closed")) << run.err;
}

TEST_F(Streams, OfSavedResultsAreReadAsFilesAre) {
  ASSERT_EQ(run_in_bash(in_folder("$W measure a.wav $F --fully-in --format json --output a.json")).exit_status, 0);
  const ProgramRun files = run_in_bash(in_folder("$W compare a.json a.wav --same-setting"));
  const ProgramRun pipes = run_in_bash(in_folder("$W compare <(cat a.json) - --same-setting < a.wav"));
  EXPECT_EQ(files.exit_status, 0) << files.err;
  EXPECT_EQ(pipes.exit_status, 0) << pipes.err;
  EXPECT_EQ(lines_of(pipes.out).at(0), lines_of(files.out).at(0));
  EXPECT_EQ(run_in_bash(in_folder("$W check a.wav --after <(cat a.json)")).exit_status, 0);
  EXPECT_EQ(run_in_bash(in_folder("cat a.json | $W check a.wav --after -")).exit_status, 0);
}

TEST_F(Streams, NeverKeepABatchWaiting) {
  ASSERT_EQ(mkfifo(folder.path("f.wav").c_str(), 0600), 0);
  const ProgramRun run = run_in_bash(in_folder("timeout 20 $W batch f.wav a.wav /dev/zero $F --tolerance 90"));
  EXPECT_EQ(run.exit_status, 3) << run.err;
  EXPECT_TRUE(has(unwrapped(run.out), "cannot read f.wav: it is a pipe or a device")) << run.out;
  EXPECT_TRUE(has(unwrapped(run.out), "cannot read /dev/zero: it is a pipe or a device")) << run.out;
  EXPECT_TRUE(has(unwrapped(run.out), "1 of 3 instruments passes")) << run.out;
}

TEST_F(Streams, DevicesWithoutAnEndAreRefused) {
  for (const std::string call :
       {"measure /dev/zero", "measure - </dev/zero", "summary /dev/zero", "summary - </dev/zero",
        "batch --manifest /dev/zero", "batch /dev/zero --tolerance 20"}) {
    const ProgramRun run = run_in_bash(in_folder("timeout 20 $W " + call));
    EXPECT_TRUE(run.exit_status == 2 || run.exit_status == 3) << call << run.exit_status;
    EXPECT_TRUE(has(unwrapped(run.err + run.out), "a device")) << call << run.err << run.out;
  }
}

TEST_F(Streams, NoOutputReplacesARecording) {
  const std::string before = read_file(take);
  for (const std::string call : {"measure a.wav $F --output b.wav", "drone D5 --seconds 1 --output b.wav"}) {
    write_file(folder.path("b.wav"), before);
    const ProgramRun run = run_in_bash(in_folder("$W " + call));
    EXPECT_EQ(run.exit_status, 2) << call;
    EXPECT_TRUE(has(run.err, "--output would replace b.wav, which is named as a recording")) << run.err;
    EXPECT_TRUE(read_file(folder.path("b.wav")) == before) << call;
  }
}

TEST_F(Streams, ADroneReplacesADrone) {
  for (const std::string file : {"d.wav", "d.flac"})
    for (int time = 0; time < 2; ++time) {
      const ProgramRun run = run_in_bash(in_folder("$W drone D5 --seconds 1 --output " + file));
      EXPECT_EQ(run.exit_status, 0) << file << run.err;
    }
}

TEST_F(Streams, NothingThatANameHoldsReachesTheTerminalAsAControl) {
  const std::string name = "e\x1b[31mvil\n\u202e.wav";
  write_file(folder.path(name), read_file(take));
  for (const std::string& path : {folder.path(name), folder.path("no" + name)}) {
    const ProgramRun measured = run_windway({"measure", path});
    const ProgramRun batch = run_windway({"batch", path, "--tolerance", "1", "--kind", "whistle", "--lowest", "D5"});
    for (const std::string& said : {measured.out, measured.raw_err, batch.out, batch.raw_err}) {
      EXPECT_FALSE(has(said, "\x1b")) << said;
      EXPECT_FALSE(has(said, "\u202e")) << said;
      EXPECT_FALSE(has(said, "vil\n")) << said;
    }
  }
  EXPECT_TRUE(has(unwrapped(run_windway({"measure", "no" + name}).err), R"(noe\x1b[31mvil\n\u202e.wav)"));
}

TEST_F(Streams, DecodersSayNothingOfTheirOwn) {
#ifndef NDEBUG
  GTEST_SKIP() << "a debug build lets all through: asserts and sanitizers write there too";
#endif
  const ProgramRun coded = run_in_bash(in_folder("ffmpeg -loglevel error -y -i a.wav -b:a 64k a.mp3"));
  if (coded.exit_status != 0) GTEST_SKIP() << "no ffmpeg here: " << coded.err;
  std::string bytes = read_file(folder.path("a.mp3"));
  for (std::size_t at = 3000; at < bytes.size(); at += 997) bytes[at] = static_cast<char>(at);
  write_file(folder.path("a.mp3"), bytes);
  const ProgramRun run = run_windway({"measure", folder.path("a.mp3"), "--kind", "whistle", "--lowest", "D5"});
  for (const std::string& line : lines_of(run.err)) EXPECT_TRUE(line.starts_with("windway: ")) << line;
}

TEST_F(Streams, AResultThatWasCutOffLosesNoneOfTheFileJoinedToIt) {
  ASSERT_EQ(run_in_bash(in_folder("cp a.wav b.wav; $W batch a.wav $F --results 1.jsonl; $W batch b.wav $F --results "
                                  "2.jsonl; (head -c 2000 1.jsonl; cat 2.jsonl) >both.jsonl"))
                .exit_status,
            0);
  const ProgramRun summary = run_in_bash(in_folder("$W summary both.jsonl --format jsonl"));
  EXPECT_EQ(summary.exit_status, 3);  // a line is damaged
  EXPECT_TRUE(has(summary.err, "both.jsonl, line 1: is cut off")) << summary.err;
  EXPECT_TRUE(has(summary.out, "b.wav")) << summary.out;
  const ProgramRun resumed = run_in_bash(in_folder("$W batch a.wav b.wav $F --results both.jsonl --resume"));
  EXPECT_EQ(resumed.exit_status, 0) << resumed.err;
  const auto lines = lines_of(read_file(folder.path("both.jsonl")));
  ASSERT_EQ(lines.size(), 2U);
  for (const std::string& line : lines) EXPECT_EQ(line.find(R"({"schema")", 1), std::string::npos);
}

TEST_F(Streams, AFileBesideTheResultsIsLeftAlone) {
  write_file(folder.path("r.jsonl.new"), "precious");
  ASSERT_EQ(run_in_bash(in_folder("$W batch a.wav $F --results r.jsonl")).exit_status, 0);
  ASSERT_EQ(run_in_bash(in_folder("$W batch a.wav $F --results r.jsonl --resume --tolerance 90")).exit_status, 0);
  EXPECT_EQ(read_file(folder.path("r.jsonl.new")), "precious");
  EXPECT_EQ(folder.contents(), (std::vector<std::string>{"a.wav", "r.jsonl", "r.jsonl.new"}));
}

}  // namespace
}  // namespace windway::cli_tests
