// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "cli/run_program.hpp"

namespace windway::cli_tests {
namespace {

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

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
  EXPECT_TRUE(has(run_windway({"help"}).err, "did you mean: windway --help"));
}

TEST(Begin, AsksForTheCommandWhereOnlyOptionsAreGiven) {
  const ProgramRun run = run_windway({"--a4", "440", "a.wav"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_TRUE(has(run.err, "the command stands first"));
}

TEST(Begin, PrintsItsVersion) {
  const ProgramRun run = run_windway({"--version"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.out, "windway " WINDWAY_VERSION "\n");
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
