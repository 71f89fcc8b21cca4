// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "report/wording/layout.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;

std::vector<std::string> joined(std::vector<std::string> words, const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// A folder with a take of the whistle in it.
struct Measure : testing::Test {
  Measure() { write_scale_take(take); }
  ProgramRun run(const std::vector<std::string>& more) const {
    return run_windway(joined(joined({"measure", take}, whistle_in_d), more));
  }
  Json json(const std::vector<std::string>& more = {}) const {
    return Json::parse(run(joined({"--format", "json"}, more)).out);
  }
  ScratchFolder folder;
  std::string take = folder.path("scale.wav");
};

TEST_F(Measure, SaysFirstWhatToDoWithTheHead) {
  const ProgramRun result = run({});
  EXPECT_EQ(result.exit_status, 0) << result.err;
  EXPECT_EQ(result.err, "");
  EXPECT_TRUE(result.out.starts_with("Draw the head out ")) << result.out;
  EXPECT_TRUE(has(result.out, "\nSet it by "));
  EXPECT_TRUE(has(result.out, "at home at A4 = "));
}

TEST_F(Measure, PrintsPlainTextOfAHundredColumns) {
  const std::string text = run({}).out;
  EXPECT_FALSE(has(text, "\x1b"));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), 100U) << line;
}

TEST_F(Measure, GivesJsonWithEveryHoldAndNote) {
  const Json result = json();
  EXPECT_EQ(result["schema"], "windway.measurement.v1");
  EXPECT_EQ(result["holds"].size(), 24U);
  EXPECT_EQ(result["notes"].size(), 8U);
  EXPECT_GT(result["compromise"]["slide_mm"].get<double>(), 0.0);
  EXPECT_EQ(result["takes"][0]["path"], take);
}

TEST_F(Measure, GivesCsvWithARowANoteAndWarningsApart) {
  const ProgramRun result = run({"--format", "csv"});
  EXPECT_EQ(result.exit_status, 0);
  EXPECT_EQ(std::count(result.out.begin(), result.out.end(), '\n'), 9);
  EXPECT_FALSE(has(result.out, "warning"));
  const Json measured = json();  // kept: the loop must not outlive what it goes through
  for (const auto& warning : measured["warnings"]) EXPECT_TRUE(has(result.err, warning["message"].get<std::string>()));
}

TEST_F(Measure, GivesTheSameBytesForTheSameTake) {
  EXPECT_EQ(run({"--format", "json"}).out, run({"--format", "json"}).out);
}

TEST_F(Measure, TakesItsSettingsFromTheOptions) {
  const Json result =
      json({"--a4", "442", "--bore-temp", "20", "--min-hold", "0.3", "--head-out", "2.5", "--travel", "12"});
  const Json& settings = result["settings"];
  EXPECT_EQ(settings["a4_hz"], 442);
  EXPECT_EQ(settings["bore_temp_c"], 20);
  EXPECT_EQ(settings["min_hold_s"], 0.3);
  EXPECT_EQ(settings["head_out_mm"], 2.5);
  EXPECT_EQ(settings["travel_mm"], 12);
  EXPECT_EQ(settings["head_moves"], true);
  EXPECT_EQ(settings["instrument"]["lowest"], "D5");
}

TEST_F(Measure, LeavesAFixedHeadWhereItIs) {
  const Json result = json({"--fixed-head"});
  EXPECT_EQ(result["settings"]["head_moves"], false);
  EXPECT_EQ(result["compromise"]["slide_mm"], 0);
  EXPECT_EQ(result["compromise"]["limit"], "fixed_head");
  EXPECT_TRUE(run({"--fixed-head"}).out.starts_with("The head is fixed"));
}

TEST_F(Measure, TakesTheBlowsAsThePlayerSaysThem) {
  const Json result = json({"--blown", "hard,moderate,soft"});
  EXPECT_EQ(result["holds"][0]["blow"], "hard");
  EXPECT_EQ(result["holds"][2]["blow"], "soft");
}

TEST_F(Measure, TakesATakeForEachBlow) {
  write_one_note_take(folder.path("soft.wav"));
  write_scale_take(folder.path("hard.wav"), 14.0);
  const ProgramRun result = run_windway(
      joined({"measure", "--soft", folder.path("soft.wav"), "--hard", folder.path("hard.wav"), "--format", "json"},
             whistle_in_d));
  ASSERT_EQ(result.exit_status, 0) << result.err;
  const Json measured = Json::parse(result.out);
  for (const auto& hold : measured["holds"]) {
    EXPECT_EQ(hold["blow"], hold["take"] == 0 ? "soft" : "hard");
  }
}

TEST_F(Measure, ReadsStandardInput) {
  const ProgramRun result = run_windway(joined({"measure", "-"}, whistle_in_d), {.in_path = take});
  EXPECT_EQ(result.exit_status, 0) << result.err;
  EXPECT_EQ(result.out, run({}).out);
}

TEST_F(Measure, PutsSeveralTakesTogether) {
  write_one_note_take(folder.path("again.wav"));
  const Json result = json({folder.path("again.wav")});
  EXPECT_EQ(result["takes"].size(), 2U);
  EXPECT_EQ(result["holds"].size(), 27U);
  EXPECT_EQ(result["holds"][26]["take"], 1);
}

TEST_F(Measure, WritesGermanNoteNamesWhereAsked) {
  const std::string text =
      run_windway({"measure", take, "--kind", "whistle", "--lowest", "D5", "--note-names", "german"}).out;
  for (const char* name : {"\n  H5 ", "\n  Fis5 "}) EXPECT_TRUE(has(text, name)) << text;
  EXPECT_FALSE(has(text, "#")) << text;
}

TEST(MeasureOneNote, MeasuresThatNoteAndSaysWhatIsMissing) {
  const ScratchFolder folder;
  write_one_note_take(folder.path("a.wav"));
  const ProgramRun run = run_windway(joined({"measure", folder.path("a.wav")}, whistle_in_d));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(run.out.starts_with("A5, the only note, is ")) << run.out;
  EXPECT_TRUE(has(unbroken(run.out), "Record the whole scale"));
}

TEST(MeasureFarOff, AsksInsteadOfMoving) {
  const ScratchFolder folder;
  write_scale_take(folder.path("a.wav"), -101.3);  // 440 to 415 Hz
  const ProgramRun run = run_windway(joined({"measure", folder.path("a.wav")}, whistle_in_d));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(run.out.starts_with("The whole scale is ")) << run.out;
  EXPECT_TRUE(has(run.out, "--a4 415")) << run.out;
}

}  // namespace
}  // namespace windway::cli_tests
