// SPDX-License-Identifier: GPL-3.0-or-later
// Which take is of which instrument: manifest, names, retakes; and every mistake in saying so.
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

std::vector<Json> judged_takes(Words words) {
  words.insert(words.end(), {"--format", "jsonl"});
  std::vector<Json> results;
  for (const std::string& line : lines_of(run_windway(batch_call(words)).out)) results.push_back(Json::parse(line));
  return results;
}

void copy_take(const std::string& take, const std::string& place) { std::filesystem::copy_file(take, place); }

/// A folder with takes of two instruments: one that fails first and then passes, one that passes.
struct Retakes : testing::Test {
  Retakes() {
    copy_take(take_with("one note off"), folder.path("HW-1_final_1.flac"));
    copy_take(take_with(""), folder.path("HW-1_final_2.flac"));
    copy_take(take_with("", 1), folder.path("HW-2_final_1.flac"));
  }
  ScratchFolder folder;
};

TEST_F(Retakes, TheLastCountsAlone) {
  const Words words{folder.path(), "--serial-from", "{serial}_{stage}_{retake}"};
  const auto results = judged_takes(words);
  ASSERT_EQ(results.size(), 3U);
  EXPECT_EQ(results[0]["batch"]["counts"], false);
  EXPECT_EQ(results[0]["batch"]["takes_of_subject"], 2);
  EXPECT_EQ(results[1]["batch"]["counts"], true);
  EXPECT_EQ(results[1]["subject"]["serial"], "HW-1");
  EXPECT_EQ(results[1]["subject"]["stage"], "final");
  EXPECT_EQ(results[1]["subject"]["retake"], 2);
  EXPECT_EQ(run_windway(batch_call(words)).exit_status, 0);
}

TEST_F(Retakes, AllCountWhereItIsAsked) {
  const Words words{folder.path(), "--serial-from", "{serial}_{stage}_{retake}", "--verdict-from", "all"};
  for (const Json& result : judged_takes(words)) EXPECT_EQ(result["batch"]["counts"], true);
  EXPECT_EQ(run_windway(batch_call(words)).exit_status, 1);
}

TEST_F(Retakes, TheHighestNumberIsLastWhateverTheOrder) {
  const auto results = judged_takes({folder.path("HW-1_final_2.flac"), folder.path("HW-1_final_1.flac"),
                                     "--serial-from", "{serial}_{stage}_{retake}"});
  EXPECT_EQ(results[0]["batch"]["counts"], true);
  EXPECT_EQ(results[1]["batch"]["counts"], false);
}

TEST_F(Retakes, ANameThatDoesNotFitIsListedAndNotGuessed) {
  copy_take(take_with("", 2), folder.path("HW-3.flac"));
  copy_take(take_with("", 3), folder.path("HW_4_final_1.flac"));  // which of them is the serial?
  const auto results = judged_takes({folder.path(), "--serial-from", "{serial}_{stage}_{retake}"});
  ASSERT_EQ(results.size(), 5U);
  for (const Json& result : {results[3], results[4]}) {
    EXPECT_EQ(result["subject"]["serial"], nullptr);
    EXPECT_EQ(result["verdict"]["result"], "not_measured");
    EXPECT_TRUE(has(result["error"], "pattern '{serial}_{stage}_{retake}'")) << result["error"];
  }
  EXPECT_TRUE(has(results[3]["error"], "does not fit"));
  EXPECT_TRUE(has(results[4]["error"], "more than one way"));
}

TEST_F(Retakes, OfAManifestAreToldApartByDate) {
  write_file(folder.path("m.csv"),
             "take,serial,stage,recorded_at\nHW-1_final_2.flac,HW-1,final,2026-03-01\n"
             "HW-1_final_1.flac,HW-1,final,2026-03-02\n");
  const auto results = judged_takes({"--manifest", folder.path("m.csv")});
  ASSERT_EQ(results.size(), 2U);
  EXPECT_EQ(results[0]["batch"]["counts"], false);
  EXPECT_EQ(results[1]["batch"]["counts"], true);
}

TEST_F(Retakes, OneThatTheManifestDoesNotNameIsListedUnlessItsNameSaysIt) {
  write_file(folder.path("m.csv"), "take,serial,colour\nHW-1_final_1.flac,HW-9,\"red, dark\"\ngone.flac,HW-8,\n");
  const ProgramRun run =
      run_windway(batch_call({folder.path(), "--manifest", folder.path("m.csv"), "--format", "jsonl"}));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_TRUE(has(run.err, "the column colour is copied")) << run.err;
  const auto lines = lines_of(run.out);
  ASSERT_EQ(lines.size(), 4U);
  EXPECT_EQ(Json::parse(lines[0])["subject"]["serial"], "HW-9");
  EXPECT_EQ(Json::parse(lines[0])["subject"]["other"], Json({{"colour", "red, dark"}}));
  EXPECT_TRUE(has(Json::parse(lines[1])["error"], "m.csv, line 3, names it, but there is no such file"));
  EXPECT_TRUE(has(Json::parse(lines[2])["error"], "m.csv does not name it"));
  const auto both =
      judged_takes({folder.path(), "--manifest", folder.path("m.csv"), "--serial-from", "{serial}_{stage}_{retake}"});
  EXPECT_EQ(both[0]["subject"]["serial"], "HW-9");
  EXPECT_EQ(both[2]["subject"]["serial"], "HW-1");
}

TEST(BatchManifest, TellsTemperatureAndHeadOfEachTake) {
  const ScratchFolder folder;
  const std::string take = take_with("");
  write_file(folder.path("m.csv"), "take,serial,bore_temp_c,head_out_mm\n" + take + ",A,18.5,3.1\n");
  const Json own = judged_takes({"--manifest", folder.path("m.csv")}).at(0);
  EXPECT_EQ(own["settings"]["bore_temp_c"], 18.5);
  EXPECT_EQ(own["settings"]["head_out_mm"], 3.1);
  const double slide_mm = own["compromise"]["slide_mm"];
  EXPECT_NEAR(own["verdict"]["head_rests_mm"].get<double>(), 3.1 + slide_mm, 0.002);
  write_file(folder.path("m.csv"), "take,serial\n" + take + ",A\n");
  const Json others = judged_takes({"--manifest", folder.path("m.csv"), "--bore-temp", "22"}).at(0);
  EXPECT_EQ(others["settings"]["bore_temp_c"], 22);
  EXPECT_EQ(others["settings"]["head_out_mm"], 5);
}

/// Refused before any work: status 2, one sentence on standard error with `said` in it.
void expect_mistake(const Words& words, const std::string& said) {
  const ProgramRun run = run_windway(batch_call(words));
  EXPECT_EQ(run.exit_status, 2) << run.err;
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, said)) << run.err;
  EXPECT_EQ(lines_of(run.err).size(), 1U) << run.err;
}

TEST(BatchMistakes, InAManifestAreSaidWithTheirLine) {
  const ScratchFolder folder;
  const std::string path = folder.path("m.csv");
  const auto refused = [&](const std::string& manifest, const std::string& said) {
    write_file(path, manifest);
    expect_mistake({"--manifest", path}, said);
  };
  refused("", "is empty");
  refused("file,serial\n", "line 1, take: there is no such column");
  refused("take,serial,serial\n", "serial is there twice");
  refused("take,serial\na.wav,1\n,2\n", "line 3, take: is empty");
  refused("take,serial\na.wav,1\na.wav,2\n", "line 3, take: a.wav is already in line 2");
  refused("take,serial\na.wav,1,2\n", "line 2: 3 cells where the first line names 2 columns");
  refused("take,bore_temp_c\na.wav,warm\n", "line 2, bore_temp_c: warm is not a number");
  refused("take,bore_temp_c\na.wav,77\n", "from -20 to 60");
  refused("take,head_out_mm\na.wav,-1\n", "head_out_mm: -1 is out of range");
  refused("take,recorded_at\na.wav,yesterday\n", "yesterday is not an ISO 8601 date");
  refused("take,retake\na.wav,1.5\n", "is not a whole number");
  refused("take,serial\na.wav,\"1\n", "a quotation mark is not closed");
  expect_mistake({"--manifest", folder.path("none.csv")}, "cannot read the manifest");
  expect_mistake({"--manifest", folder.path()}, "it is a folder");
}

TEST(BatchMistakes, InAPatternAreSaid) {
  const auto refused = [](const std::string& pattern, const std::string& said) {
    expect_mistake({"a.wav", "--serial-from", pattern}, said);
  };
  refused("{stage}_{retake}", "has no {serial}");
  refused("{serial}_{colour}", "has an unknown field {colour}");
  refused("{serial}_{serial}", "has {serial} twice");
  refused("{serial}{stage}", "has nothing between {serial} and {stage}");
  refused("{serial", "has a { without its }");
}

TEST(BatchMistakes, InTheCallAreSaid) {
  expect_mistake({}, "which takes?");
  expect_mistake({"a.wav", "--resume"}, "--results");
  for (const std::string range : {"2", "6:2", "2:x", ":", "-1:3", "2:2"})
    expect_mistake({"a.wav", "--head-out-range=" + range}, "--head-out-range takes two places in mm");
  expect_mistake({"a.wav", "--tolerance", "0"}, "out of range");
  expect_mistake({"a.wav", "--verdict-from", "first"}, "none of");
  expect_mistake({"a.wav", "--group-by", "colour"}, "none of");
  expect_mistake({"a.wav", "--format", "xml"}, "none of");
  expect_mistake({"a.wav", "--jobs", "0"}, "--jobs");
}

TEST(BatchMistakes, ThatWouldOverwriteAnythingAreRefused) {
  const ScratchFolder folder;
  const std::string take = folder.path("a.flac"), manifest = folder.path("m.csv"), results = folder.path("r.jsonl");
  copy_take(take_with(""), take);
  write_file(manifest, "take,serial\na.flac,A\n");
  expect_mistake({take, "--results", take}, "would overwrite " + take);
  expect_mistake({take, "--output", take}, "would overwrite " + take);
  expect_mistake({"--manifest", manifest, "--results", manifest}, "would overwrite " + manifest);
  expect_mistake({take, "--results", results, "--output", results}, "would overwrite " + results);
  ASSERT_EQ(run_windway(batch_call({take, "--results", results})).exit_status, 0);
  const std::string kept = read_file(results);
  expect_mistake({take, "--results", results}, "has results already: add --resume to go on with them");
  expect_mistake({take, "--results", results, "--resume", "--output", results}, "would overwrite " + results);
  EXPECT_EQ(read_file(results), kept);
  write_file(results, "{\"schema\": \"another's\"}\n");
  expect_mistake({take, "--results", results, "--resume"}, "line 1: is not a result of windway batch");
  EXPECT_EQ(read_file(results), "{\"schema\": \"another's\"}\n");
}

}  // namespace
}  // namespace windway::cli_tests
