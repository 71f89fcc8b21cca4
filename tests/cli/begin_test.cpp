// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "cli/run_program.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

TEST(Begin, TellsInTenLinesHowToBegin) {
  const ProgramRun run = run_windway({});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.err, "");
  EXPECT_LE(std::count(run.out.begin(), run.out.end(), '\n'), 10);
  EXPECT_TRUE(has(run.out, "windway measure my-scale.wav"));
}

TEST(Begin, GuessesThatAFileIsToBeMeasured) {
  const ProgramRun run = run_windway({"my take.wav"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_EQ(run.out, "");
  EXPECT_EQ(run.err, "windway: 'my take.wav' is not a command; did you mean: windway measure 'my take.wav'\n");
}

TEST(Begin, GuessesWhichCommandWasMisspelt) {
  const ProgramRun run = run_windway({"mesure", "a.wav"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_TRUE(has(run.err, "did you mean: windway measure a.wav"));
  EXPECT_TRUE(has(run_windway({"partnr", "a.wav"}).err, "did you mean: windway partner a.wav"));
  EXPECT_TRUE(has(run_windway({"hlep", "measure"}).err, "did you mean: windway help measure"));
  EXPECT_TRUE(has(run_windway({"version"}).err, "did you mean: windway --version"));
}

TEST(Begin, GuessesACommandByWhatWasMeant) {
  EXPECT_TRUE(has(run_windway({"analyze", "a.wav"}).err, "did you mean: windway measure a.wav"));
  EXPECT_TRUE(has(run_windway({"stats", "b.jsonl"}).err, "did you mean: windway summary b.jsonl"));
}

TEST(Begin, GuessesAnOptionOfTheProgramThatWasMisspelt) {
  const ProgramRun run = run_windway({"--versoin"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_EQ(run.raw_err, "windway: unknown option --versoin; did you mean --version?\n");
  EXPECT_EQ(run_windway({"-v"}).raw_err, "windway: unknown option -v; did you mean --version?\n");
  EXPECT_EQ(run_windway({"--halp"}).raw_err, "windway: unknown option --halp; did you mean --help?\n");
}

TEST(Begin, AsksForTheCommandWhereOnlyOptionsAreGiven) {
  const ProgramRun run = run_windway({"--a4", "440", "a.wav"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_TRUE(has(run.err, "put the command first"));
}

TEST(Begin, PrintsItsVersion) {
  const ProgramRun run = run_windway({"--version"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.out, "windway " WINDWAY_VERSION "\n");
  EXPECT_EQ(run_windway({"-V"}).out, run.out);
}

TEST(Help, IsTheSameHoweverItIsAskedFor) {
  const std::string page = run_windway({"--help"}).out;
  EXPECT_TRUE(has(page, "COMMAND"));
  EXPECT_EQ(run_windway({"-h"}).out, page);
  EXPECT_EQ(run_windway({"help"}).out, page);
  for (const std::string command : {"measure", "drone", "instruments", "batch", "history"}) {
    const std::string of_command = run_windway({command, "--help"}).out;
    EXPECT_TRUE(has(of_command, "windway " + command)) << of_command;
    using Words = std::vector<std::string>;
    for (const Words& words : {Words{command, "-h"}, Words{"-h", command}, Words{"help", command},
                               Words{"--help", command}, Words{command, "a.wav", "-h"}}) {
      const ProgramRun run = run_windway(words);
      EXPECT_EQ(run.exit_status, 0) << words[0] << " " << words[1] << run.err;
      EXPECT_EQ(run.out, of_command) << words[0] << " " << words[1];
    }
  }
  const ProgramRun unknown = run_windway({"help", "mesure"});
  EXPECT_EQ(unknown.exit_status, 2);
  EXPECT_TRUE(has(unknown.err, "did you mean: windway measure --help"));
}

TEST(Help, OfTheProgramNamesItsCommands) {
  const ProgramRun run = run_windway({"--help"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.err, "");
  EXPECT_TRUE(has(run.out, "measure"));
}

TEST(Help, OfMeasureNamesEveryOptionWithItsUnitAndDefault) {
  const ProgramRun run = run_windway({"measure", "--help"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.err, "");
  for (const char* option : {"--kind", "--lowest", "--a4 HZ=440", "--bore-temp CELSIUS=25", "--min-hold SECONDS=0.25",
                             "--blown", "--soft", "--moderate", "--hard", "--head-out MM", "--fully-in", "--travel MM",
                             "--fixed-head", "--note-names NAMES=english", "--format FORMAT=text", "--output FILE"}) {
    EXPECT_TRUE(has(run.out, option)) << option;
  }
}

TEST(Help, OfMeasureIsGroupedInTheOrderOfTheData) {
  const std::string help = run_windway({"measure", "--help"}).out;
  std::size_t last = 0;
  for (const char* group :
       {"The recording:", "The instrument:", "The pitch and the air:", "The head:", "The result:", "Examples:"}) {
    const std::size_t place = help.find(group);
    ASSERT_NE(place, std::string::npos) << group;
    EXPECT_GT(place, last);
    last = place;
  }
}

}  // namespace
}  // namespace windway::cli_tests
