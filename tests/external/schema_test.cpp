// SPDX-License-Identifier: GPL-3.0-or-later
// Everything windway writes as JSON against the schemas that it ships, by an independent validator: jsonschema, JSON
// Schema draft 2020-12.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "cli/run_program.hpp"
#include "external/required.hpp"

namespace windway::external_tests {
namespace {

using cli_tests::ProgramRun;
using cli_tests::run_program;
using cli_tests::run_windway;
using cli_tests::ScratchFolder;
using Words = std::vector<std::string>;

constexpr auto schemas = WINDWAY_TESTS_DIR "/../lib/report/schemas/";

std::string take(const std::string& name) { return WINDWAY_SAMPLES_DIR "/takes/" + name + ".flac"; }
std::string schema_of(const std::string& name) { return schemas + name + ".schema.json"; }

bool has_validator() { return run_program({"/usr/bin/python3", "-c", "import jsonschema"}).exit_status == 0; }

/// How the validator ends on that text.
ProgramRun validated(const std::string& text, const std::string& schema, bool lines = false) {
  const ScratchFolder folder;
  std::ofstream(folder.path("text.json")) << text;
  Words words{"/usr/bin/python3", WINDWAY_TESTS_DIR "/external/validate_json.py", schema_of(schema)};
  if (lines) words.emplace_back("--lines");
  return run_program(words, {.in_path = folder.path("text.json")});
}

void expect_valid(const Words& call, const std::string& schema, bool lines = false) {
  const ProgramRun run = run_windway(call);
  ASSERT_FALSE(run.out.empty()) << call.front() << ": " << run.err;
  const ProgramRun check = validated(run.out, schema, lines);
  EXPECT_EQ(check.exit_status, 0) << ::testing::PrintToString(call) << "\n" << check.out << check.err;
}

TEST(Schemas, DescribeEveryMeasurement) {
  WINDWAY_NEEDS(has_validator(), "python3-jsonschema");
  const Words steps{"measure", take("hw-0412-steps"), "--format", "json"};
  const std::vector<Words> further{{"--kind", "whistle", "--lowest", "D5", "--fully-in"},
                                   {"--head-out", "4", "--travel", "4", "--quote-at", "28", "--humidity", "80"},
                                   {"--fixed-head", "--temperament", "just", "--key", "D", "--note-names", "german"},
                                   {"--a4", "415"}};
  for (const Words& options : further) {
    Words call = steps;
    call.insert(call.end(), options.begin(), options.end());
    expect_valid(call, "windway.measurement.v1");
  }
  for (const char* name : {"hw-0388-recorder", "hw-0405-swells", "hw-0427-cold", "hw-0431-plain", "hw-0416-talk"})
    expect_valid({"measure", take(name), "--format", "json"}, "windway.measurement.v1");
}

TEST(Schemas, DescribeWhatTheOtherCommandsOfAPlayerWrite) {
  WINDWAY_NEEDS(has_validator(), "python3-jsonschema");
  const std::string before = take("hw-0412-steps");
  const std::string after = take("hw-0412-drawn-out");
  const ScratchFolder folder;
  expect_valid({"check", after, "--after", before, "--format", "json"}, "windway.check.v1");
  expect_valid({"compare", before, after, "--format", "json"}, "windway.comparison.v1");
  expect_valid({"compare", before, after, "--drawn-out", "1.3", "--format", "json"}, "windway.comparison.v1");
  expect_valid({"compare", before, after, "--same-setting", "--format", "json"}, "windway.comparison.v1");
  ASSERT_EQ(run_windway({"drone", "A4", "--a4", "441", "--output", folder.path("a4.wav")}).exit_status, 0);
  expect_valid({"partner", folder.path("a4.wav"), "--format", "json"}, "windway.partner.v1");
  expect_valid({"playing", before, "--instrument", "D whistle", "--format", "json"}, "windway.playing.v1");
  expect_valid({"playing", before, "--instrument", "D whistle", "--against", after, "--format", "json"},
               "windway.playing.v1");
  expect_valid({"protocol", "--instrument", "D whistle", "--format", "json"}, "windway.protocol.v1");
}

TEST(Schemas, DescribeBatchesTheirStatisticsAndHistories) {
  WINDWAY_NEEDS(has_validator(), "python3-jsonschema");
  const ScratchFolder folder;
  std::ofstream(folder.path("broken.wav")) << "no sound";
  const std::string results = folder.path("results.jsonl");
  expect_valid({"batch", take("hw-0412-steps"), take("hw-0412-drawn-out"), take("hw-0427-cold"),
                folder.path("broken.wav"), "--serial-from", "hw-{serial}-{stage}", "--tolerance", "12", "--max-spread",
                "30", "--head-out-range", "1:6", "--results", results, "--format", "jsonl"},
               "windway.measurement.v1", true);
  expect_valid({"batch", take("hw-0431-plain"), "--format", "jsonl"}, "windway.measurement.v1", true);
  expect_valid({"summary", results, "--group-by", "stage", "--format", "json"}, "windway.summary.v1");
  expect_valid({"summary", results, "--keeper", "0412", "--format", "json"}, "windway.summary.v1");
  expect_valid({"history", "0412", "--results", results, "--format", "json"}, "windway.history.v1");
}

TEST(Schemas, RefuseWhatIsNotAsTheySay) {
  WINDWAY_NEEDS(has_validator(), "python3-jsonschema");
  const ProgramRun run = run_windway({"measure", take("hw-0431-plain"), "--format", "json"});
  const auto good = nlohmann::json::parse(run.out);
  ASSERT_EQ(validated(good.dump(), "windway.measurement.v1").exit_status, 0);
  const auto is_refused = [&](const char* place, const nlohmann::json& value) {
    auto bad = good;
    bad[nlohmann::json::json_pointer(place)] = value;
    return validated(bad.dump(), "windway.measurement.v1").exit_status == 1;
  };
  EXPECT_TRUE(is_refused("/notes/0/moderate_cents", "12"));
  EXPECT_TRUE(is_refused("/notes/0/moderate_cents", nullptr));
  EXPECT_TRUE(is_refused("/notes/0/midi", 128));
  EXPECT_TRUE(is_refused("/notes/0/moved/breath", "louder"));
  EXPECT_TRUE(is_refused("/notes/0/moderate_u95_cents", -1));
  EXPECT_TRUE(is_refused("/compromise/unheard_of", 1));
  auto lacking = good;
  lacking["compromise"].erase("slide_mm");
  EXPECT_EQ(validated(lacking.dump(), "windway.measurement.v1").exit_status, 1);
}

TEST(Schemas, AreThereForEveryOutputThatNamesOne) {
  std::set<std::string> named;
  const std::regex schema(R"re("(windway\.[a-z]+\.v[0-9]+)")re");
  for (const auto& file : std::filesystem::recursive_directory_iterator(WINDWAY_TESTS_DIR "/../lib")) {
    if (file.path().extension() != ".cpp") continue;
    std::ifstream source(file.path());
    const std::string text{std::istreambuf_iterator<char>(source), {}};
    for (std::sregex_iterator found(text.begin(), text.end(), schema), end; found != end; ++found)
      named.insert((*found)[1]);
  }
  std::set<std::string> shipped;
  for (const auto& file : std::filesystem::directory_iterator(schemas))
    shipped.insert(file.path().stem().stem().string());
  EXPECT_EQ(shipped, named);
}

}  // namespace
}  // namespace windway::external_tests
