// SPDX-License-Identifier: GPL-3.0-or-later
// Every form of a batch's report, read by programs that are not windway.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <regex>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

std::string report(const std::string& format) { return run_windway(whole_bench_call({"--format", format})).out; }

/// The bench's verdicts, by serial.
std::map<std::string, std::string> verdicts() {
  std::map<std::string, std::string> by_serial;
  for (const std::string& line : lines_of(report("jsonl"))) {
    const Json result = Json::parse(line);
    by_serial[result["subject"]["serial"]] = result["verdict"]["result"];
  }
  return by_serial;
}

/// Characters, not bytes.
std::size_t width_of(const std::string& line) {
  return static_cast<std::size_t>(std::ranges::count_if(line, [](char byte) { return (byte & 0xC0) != 0x80; }));
}

TEST(BatchText, SaysVerdictsAndReasonsWithinEightyColumns) {
  const std::string text = report("text");
  EXPECT_TRUE(text.starts_with("6 of 12 instruments pass, 4 fail, 2 were not measured.\n")) << text;
  // Paths are as long as they are.
  for (const std::string& line : lines_of(text))
    if (!has(line, small_bench())) {
      EXPECT_LE(width_of(line), 80U) << line;
    }
  for (const auto& [serial, verdict] : verdicts()) {
    if (verdict == "fail") {
      EXPECT_TRUE(has(text, "  " + serial + " final: fails")) << serial;
    }
    if (verdict == "not_measured") {
      EXPECT_TRUE(has(text, "  " + serial + " final: not measured")) << serial;
    }
    if (verdict == "pass") {
      EXPECT_FALSE(has(text, "  " + serial + " final:")) << serial;
    }
  }
}

TEST(BatchLines, AreOneJsonObjectATakeInTheOrderOfTheTakes) {
  const auto lines = lines_of(report("jsonl"));
  ASSERT_EQ(lines.size(), 12U);
  std::string last;
  for (const std::string& line : lines) {
    const Json result = Json::parse(line);
    for (const char* key :
         {"schema", "program", "takes", "subject", "settings", "batch", "verdict", "error", "notes", "holds"})
      EXPECT_TRUE(result.contains(key)) << key;
    EXPECT_LT(last, result["takes"][0]["path"]);
    last = result["takes"][0]["path"];
  }
}

/// Rows read by the csv module of Python: the separator, the quotes and the line ends are its, not windway's.
Json rows_of(const std::string& csv) {
  const ScratchFolder folder;
  write_file(folder.path("t.csv"), csv);
  const ProgramRun run = run_program({"python3", "-c",
                                      "import csv, json, sys\n"
                                      "print(json.dumps(list(csv.reader(open(sys.argv[1], newline=''), strict=True))))",
                                      folder.path("t.csv")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  return Json::parse(run.out);
}

TEST(BatchCsv, HasTheSameColumnsWhateverTheTakesMeasured) {
  const Json rows = rows_of(report("csv"));
  std::size_t expected = 1;  // a row a note, one of a take without
  for (const std::string& line : lines_of(report("jsonl")))
    expected += std::max(Json::parse(line)["notes"].size(), std::size_t{1});
  EXPECT_GT(expected, 150U);
  ASSERT_EQ(rows.size(), expected);
  for (const Json& row : rows) EXPECT_EQ(row.size(), rows[0].size());
  const Json of_nothing = rows_of(run_windway({"batch", "missing.wav", "--format", "csv"}).out);
  ASSERT_EQ(of_nothing.size(), 2U);
  EXPECT_EQ(of_nothing[0], rows[0]);
  EXPECT_EQ(of_nothing[1].size(), rows[0].size());
}

TEST(BatchCsv, KeepsWhatPeopleWriteInManifests) {
  const ScratchFolder folder;
  const std::string remark = "said \"well, well\"";
  write_file(folder.path("m.csv"), "take,serial,remark\n" + take_with("") + ",\"A;1\",\"said \"\"well, well\"\"\"\n");
  const Json rows = rows_of(run_windway(batch_call({"--manifest", folder.path("m.csv"), "--format", "csv"})).out);
  const auto column = [&](const char* name) {
    return static_cast<std::size_t>(std::ranges::find(rows[0], Json(name)) - rows[0].begin());
  };
  EXPECT_EQ(rows[1][column("serial")], "A;1");
  EXPECT_EQ(rows[1][column("remark")], remark);
}

TEST(BatchCsv, HasAColumnForEachFurtherOneOfTheManifestAlsoWhereItsCellsAreEmpty) {
  const ScratchFolder folder;
  std::filesystem::copy_file(take_with(""), folder.path("a.flac"));
  std::filesystem::copy_file(take_with("", 1), folder.path("b.flac"));
  std::filesystem::copy_file(take_with("", 2), folder.path("c.flac"));
  write_file(folder.path("m.csv"), "take,serial,shelf,price\nb.flac,HW-2,,=1+1\nc.flac,HW-3,north,\n");
  const std::string results = folder.path("r.jsonl");
  const ProgramRun run = run_windway(batch_call(
      {folder.path(), "--manifest", folder.path("m.csv"), "--results", results, "--jobs", "1", "--format", "csv"}));
  const Json rows = rows_of(run.out);
  const auto column = [&](const char* name) {
    return static_cast<std::size_t>(std::ranges::find(rows[0], Json(name)) - rows[0].begin());
  };
  ASSERT_LT(column("shelf"), rows[0].size());
  ASSERT_EQ(column("price"), column("shelf") + 1);
  std::map<std::string, std::pair<std::string, std::string>> own;
  for (const Json& row : rows)
    if (row != rows[0]) own[row[column("serial")]] = {row[column("shelf")], row[column("price")]};
  EXPECT_EQ(own[""], std::pair(std::string(), std::string()));  // the manifest does not name a.flac
  EXPECT_EQ(own["HW-2"], std::pair(std::string(), std::string("'=1+1")));
  EXPECT_EQ(own["HW-3"], std::pair(std::string("north"), std::string()));
  EXPECT_EQ(run_windway({"summary", results, "--format", "csv"}).out, run.out);
}

TEST(BatchJUnit, HasACaseForEachInstrumentAndNoteAndCountsThemRight) {
  pugi::xml_document document;
  ASSERT_TRUE(document.load_string(report("junit").c_str()));
  const auto by_serial = verdicts();
  int tests = 0, failures = 0, errors = 0, suites = 0;
  const pugi::xml_node all = document.child("testsuites");
  for (const pugi::xml_node suite : all.children("testsuite")) {
    ++suites;
    int own_tests = 0, own_failures = 0, own_errors = 0;
    const std::string serial =
        suite.child("properties").find_child_by_attribute("property", "name", "serial").attribute("value").value();
    for (const pugi::xml_node test : suite.children("testcase")) {
      ++own_tests;
      own_failures += test.child("failure") ? 1 : 0;
      own_errors += test.child("error") ? 1 : 0;
      for (const char* child : {"failure", "error"})
        if (test.child(child)) {
          EXPECT_STRNE(test.child(child).attribute("message").value(), "");
        }
    }
    EXPECT_EQ(suite.attribute("tests").as_int(), own_tests);
    EXPECT_EQ(suite.attribute("failures").as_int(), own_failures);
    EXPECT_EQ(suite.attribute("errors").as_int(), own_errors);
    EXPECT_EQ(suite.attribute("skipped").as_int(), 0);
    const std::string& verdict = by_serial.at(serial);
    EXPECT_EQ(own_failures > 0, verdict == "fail") << serial;
    EXPECT_EQ(own_failures == 0 && own_errors == 0, verdict == "pass") << serial;
    tests += own_tests, failures += own_failures, errors += own_errors;
  }
  EXPECT_EQ(suites, 12);
  EXPECT_EQ(all.attribute("tests").as_int(), tests);
  EXPECT_EQ(all.attribute("failures").as_int(), failures);
  EXPECT_EQ(all.attribute("errors").as_int(), errors);
  EXPECT_GE(tests, 10 * 15 + 2);
}

TEST(BatchJUnit, IsReadByAnotherParserToo) {
  const ScratchFolder folder;
  const std::string path = folder.path("bench.xml");
  EXPECT_EQ(run_windway(whole_bench_call({"--format", "junit", "--output", path})).exit_status, 3);
  const ProgramRun run = run_program({"python3", "-c",
                                      "import sys, xml.etree.ElementTree as tree\n"
                                      "root = tree.parse(sys.argv[1]).getroot()\n"
                                      "assert int(root.get('tests')) == len(list(root.iter('testcase')))\n"
                                      "assert int(root.get('failures')) == len(list(root.iter('failure')))\n"
                                      "assert int(root.get('errors')) == len(list(root.iter('error')))\n"
                                      "print(len(root))",
                                      path});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(run.out, "12\n");
}

TEST(BatchJUnit, KeepsATakeThatALaterOneOvertookAsSkipped) {
  const ScratchFolder folder;
  std::filesystem::copy_file(take_with("one note off"), folder.path("A_1.flac"));
  std::filesystem::copy_file(take_with(""), folder.path("A_2.flac"));
  const ProgramRun run =
      run_windway(batch_call({folder.path(), "--serial-from", "{serial}_{retake}", "--format", "junit"}));
  EXPECT_EQ(run.exit_status, 0);
  pugi::xml_document document;
  ASSERT_TRUE(document.load_string(run.out.c_str()));
  const pugi::xml_node all = document.child("testsuites");
  EXPECT_EQ(all.attribute("failures").as_int(), 0);
  const pugi::xml_node overtaken = all.first_child();
  EXPECT_GT(overtaken.attribute("skipped").as_int(), 0);
  EXPECT_EQ(overtaken.attribute("skipped").as_int(), overtaken.attribute("tests").as_int());
}

/// What stands on a pseudo terminal at the program's standard error.
ProgramRun on_a_terminal(const Words& words) {
  Words call{"python3", "-c",
             "import os, pty, subprocess, sys\n"
             "ours, its = pty.openpty()\n"
             "program = subprocess.Popen(sys.argv[1:], stdout=subprocess.PIPE, stderr=its)\n"
             "os.close(its)\n"
             "try:\n"
             "  while block := os.read(ours, 65536): sys.stderr.buffer.write(block)\n"
             "except OSError: pass\n"  // so Linux says that the last writer has gone
             "sys.stdout.buffer.write(program.stdout.read())\n"
             "sys.exit(program.wait())",
             windway_program()};
  call.insert(call.end(), words.begin(), words.end());
  return run_program(call);
}

TEST(BatchProgress, ShowsCountRateAndTimeLeftOnATerminalAlone) {
  const ScratchFolder folder;
  for (int copy = 0; copy < 8; ++copy)
    for (const std::string& take : good_takes())
      std::filesystem::copy_file(take,
                                 folder.path(std::to_string(copy) + std::filesystem::path(take).filename().string()));
  const Words call = batch_call({folder.path(), "--jobs", "1"});
  const ProgramRun shown = on_a_terminal(call);
  EXPECT_EQ(shown.exit_status, 0);
  const std::regex line("\r[0-9]+ of 48 takes, [0-9.]+ a second, [0-9:]+ (s|min) left\x1b\\[K");
  EXPECT_TRUE(std::regex_search(shown.err, line)) << shown.err;
  EXPECT_TRUE(shown.err.ends_with("\r\x1b[K")) << shown.err;  // and it is wiped off at the end
  const ProgramRun piped = run_windway(call);
  EXPECT_EQ(piped.err, "");
  EXPECT_EQ(piped.out, shown.out);
}

}  // namespace
}  // namespace windway::cli_tests
