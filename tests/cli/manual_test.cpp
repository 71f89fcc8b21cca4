// SPDX-License-Identifier: GPL-3.0-or-later
// The written pages of the manual (cli/manual) against what the program knows: nothing missing, nothing invented.
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "manifest/subject.hpp"
#include "support/text.hpp"
#include "warning.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Terms = std::set<std::string>;

const std::string source_dir = std::string(WINDWAY_TESTS_DIR) + "/..";

std::string manual_page(const std::string& name) { return read_file(source_dir + "/cli/manual/" + name + ".md"); }

/// All that the pattern's first group matches.
Terms matches(const std::string& text, const std::string& pattern) {
  const std::regex expression(pattern);
  Terms found;
  for (std::sregex_iterator match(text.begin(), text.end(), expression), end; match != end; ++match)
    found.insert((*match)[1]);
  return found;
}

/// What a page defines: the words in backticks of a line that a line with a colon explains, at once or after a blank
/// one.
Terms terms_of(const std::string& page) {
  Terms terms;
  std::istringstream lines(page);
  std::string line, last;
  while (std::getline(lines, line)) {
    if (line.starts_with(": ") || line.starts_with(":\t")) terms.merge(matches(last, "`([^`]+)`"));
    if (!line.empty()) last = line;
  }
  return terms;
}

Terms without(const Terms& terms, const Terms& known) {
  Terms rest;
  std::set_difference(terms.begin(), terms.end(), known.begin(), known.end(), std::inserter(rest, rest.end()));
  return rest;
}

void add_keys(const Json& schema, Terms& keys) {
  if (!schema.is_structured()) return;
  if (schema.is_object() && schema.contains("properties") && schema["properties"].is_object())
    for (const auto& [key, value] : schema["properties"].items()) keys.insert(key);
  for (const Json& part : schema) add_keys(part, keys);
}

Terms keys_of_all_schemas() {
  Terms keys;
  for (const auto& file : fs::directory_iterator(source_dir + "/lib/report/schemas"))
    add_keys(Json::parse(read_file(file.path())), keys);
  return keys;
}

/// The columns of what such a call writes as CSV.
Terms columns_of(std::vector<std::string> call) {
  if (std::find(call.begin(), call.end(), "--format") == call.end()) call.insert(call.end(), {"--format", "csv"});
  const ProgramRun run = run_windway(call);
  const std::string heading = run.out.substr(0, run.out.find_first_of("\r\n"));
  EXPECT_FALSE(heading.empty()) << call[0] << ": " << run.err;
  return matches(heading, "([^,]+)");
}

Terms columns_of_all_tables(const ScratchFolder& folder) {
  const std::string takes = std::string(WINDWAY_SAMPLES_DIR) + "/takes/";
  const std::string before = folder.path("before.json"), after = takes + "hw-0412-drawn-out.flac";
  const std::string results = folder.path("bench.jsonl");
  run_windway({"measure", takes + "hw-0412-steps.flac", "--kind", "whistle", "--lowest", "D5", "--fully-in", "--format",
               "json", "--output", before});
  run_windway(whole_bench_call({"--results", results, "--tolerance", "25"}));
  Terms columns;
  for (const std::vector<std::string>& call : std::vector<std::vector<std::string>>{
           {"measure", before},
           {"compare", before, after, "--drawn-out", "1.3"},
           {"card", before},
           {"partner", after},
           {"playing", after, "--against", before},
           {"history", before, after, "--head-out", "1.3", "--kind", "whistle", "--lowest", "D5"},
           {"summary", results, "--tolerance", "25"},
           {"summary", results, "--tolerance", "25", "--format", "csv-statistics"}})
    columns.merge(columns_of(call));
  return columns;
}

/// The keys that a TOML file may have in this table: the program names them where one is far from all.
Terms keys_known_to(const std::vector<std::string>& call, const std::string& file, const std::string& toml) {
  write_file(file, toml + "qqqqqqqqqqqqqqqq = 1\n");
  const ProgramRun run = run_windway(call);
  std::smatch known;
  EXPECT_TRUE(std::regex_search(run.err, known, std::regex("qqqqqqqqqqqqqqqq[^\\n]*known are ([a-z0-9_, ]+)")))
      << run.err;
  return matches(known.empty() ? "" : known[1].str(), "([a-z0-9_]+)(?:,| and | or |$)");
}

TEST(Manual, ExplainsEachWarningAndNoOther) {
  Terms codes;
  for (const auto& [code, name] : warning_codes) codes.insert(std::string(name));
  const Terms explained = terms_of(manual_page("windway-warnings.7"));
  EXPECT_EQ(without(codes, explained), Terms{});
  EXPECT_EQ(without(explained, codes), Terms{});
}

TEST(Manual, ExplainsEachKeyOfAnInstrumentFileAndNoOther) {
  const ScratchFolder folder;
  const std::string file = folder.path("mine.toml");
  const std::string begun = "kind = \"whistle\"\nlowest = \"D5\"\n";
  Terms keys;
  for (const std::string table :
       {"", "[head]\n", "[temperament]\nname = \"equal\"\n", "[maker]\n", "[[note]]\nnote = \"D5\"\n"})
    keys.merge(keys_known_to({"instruments", "check", file}, file, begun + table));
  EXPECT_GT(keys.size(), 25U);
  const Terms explained = terms_of(manual_page("windway-instrument.5"));
  EXPECT_EQ(without(keys, explained), Terms{});
  EXPECT_EQ(without(explained, keys), Terms{});
}

TEST(Manual, ExplainsEachKeyOfABenchFileAndNoOther) {
  const ScratchFolder folder;
  const std::string file = folder.path("bench.toml");
  Terms keys;
  for (const std::string table : {"", "[limits]\n"}) keys.merge(keys_known_to({"batch", file}, file, table));
  EXPECT_GT(keys.size(), 12U);
  const Terms explained = terms_of(manual_page("windway-bench-file.5"));
  EXPECT_EQ(without(keys, explained), Terms{});
  EXPECT_EQ(without(explained, keys), Terms{});
}

TEST(Manual, ExplainsEachKeyOfJsonEachColumnAndEachExitStatus) {
  const ScratchFolder folder;
  Terms known = keys_of_all_schemas();
  known.merge(columns_of_all_tables(folder));
  known.merge(Terms{"0", "1", "2", "3", "4", "130"});
  EXPECT_GT(known.size(), 380U);
  const Terms explained = terms_of(manual_page("windway-output.5"));
  EXPECT_EQ(without(known, explained), Terms{});
  const Terms of_junit_and_figures{"testsuites", "testsuite", "testcase", "failure", "skipped",    "property",
                                   "head",       "breath",    "holes",    "notes",   "production", "shared"};
  EXPECT_EQ(without(explained, known), without(of_junit_and_figures, known));
}

TEST(Manual, ExplainsEachColumnOfAManifestAndNoOther) {
  const Terms explained = terms_of(manual_page("windway-manifest.5"));
  Terms columns{"take", "retake", "bore_temp_c", "head_out_mm", "recorded_at", "remark"};
  for (const SubjectText& text : subject_texts) columns.insert(text.name);
  EXPECT_EQ(without(columns, explained), Terms{});
  const ScratchFolder folder;
  const std::string manifest = folder.path("manifest.csv");
  for (const std::string& column : explained) {
    if (column == "take" || column.size() < 4) continue;
    write_file(manifest, "take," + column + "q\na.wav,\n");
    const ProgramRun run = run_windway({"batch", "--manifest", manifest});
    EXPECT_EQ(run.exit_status, 2) << column;
    EXPECT_TRUE(has(run.err, "did you mean " + column + "?")) << run.err;
  }
}

/// Options that are written anywhere in the manual or the README.
TEST(Manual, NamesNoOptionThatNoCommandHas) {
  Terms options{"--help", "--version"};
  const Terms commands = matches(run_windway({"--help"}).out, "\\n  ([a-z]+) ");
  EXPECT_GE(commands.size(), 12U);
  for (const std::string& command : commands)
    options.merge(matches(run_windway({command, "--help"}).out, "(--[a-z][a-z0-9-]*)"));
  std::string pages = read_file(source_dir + "/README.md");
  for (const auto& page : fs::directory_iterator(source_dir + "/cli/manual")) pages += read_file(page.path());
  const Terms of_other_programs{"--install"};  // cmake
  EXPECT_EQ(without(without(matches(pages, "(--[a-z][a-z0-9-]*)"), options), of_other_programs), Terms{});
}

}  // namespace
}  // namespace windway::cli_tests
