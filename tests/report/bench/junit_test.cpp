// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/junit.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::with_tolerance;
using nlohmann::json;

/// The document as Python's xml.etree reads it: a list of the attributes of each element in order, its tag as "tag".
json elements_of(const std::string& xml) {
  const std::string path =
      (std::filesystem::temp_directory_path() / ("windway-junit-" + std::to_string(getpid()) + ".xml")).string();
  std::ofstream(path, std::ios::binary) << xml;
  const std::string script =
      "import json, sys, xml.etree.ElementTree as t; "
      "print(json.dumps([dict(e.attrib, tag=e.tag) for e in t.parse(sys.argv[1]).iter()]))";
  FILE* python = popen(("/usr/bin/env python3 -c '" + script + "' " + path + " 2>&1").c_str(), "r");
  std::string printed;
  for (int letter = std::fgetc(python); letter != EOF; letter = std::fgetc(python))
    printed += static_cast<char>(letter);
  EXPECT_EQ(pclose(python), 0) << printed;
  std::filesystem::remove(path);
  return json::parse(printed, nullptr, false);
}

json report_of(const std::vector<BenchEntry>& entries) {
  JUnitReport report;
  for (const BenchEntry& entry : entries) report.add(entry);
  return elements_of(report.text());
}

BenchEntry judged_as(VerdictResult result, const std::string& serial) {
  auto entry = with_tolerance(10, made_up_entry(serial, {1.0}));
  entry.judged[0].judged.result = result;
  entry.judged[0].message = "D5 is so";
  return entry;
}

TEST(JUnitReport, CountsFailuresErrorsAndSkippedOfEachSuiteAndOfAll) {
  auto overtaken = judged_as(VerdictResult::fail, "E");
  overtaken.counts = false;
  const json all =
      report_of({judged_as(VerdictResult::pass, "A"), judged_as(VerdictResult::fail, "B"),
                 judged_as(VerdictResult::too_close, "C"), judged_as(VerdictResult::not_measured, "D"), overtaken});
  EXPECT_EQ(all[0], (json{{"tag", "testsuites"},
                          {"name", "windway batch"},
                          {"tests", "5"},
                          {"failures", "1"},
                          {"errors", "2"},
                          {"skipped", "1"}}));
  EXPECT_EQ(all[1], (json{{"tag", "testsuite"},
                          {"name", "A"},
                          {"file", "A.wav"},
                          {"tests", "1"},
                          {"failures", "0"},
                          {"errors", "0"},
                          {"skipped", "0"}}));
  EXPECT_EQ(all[2], (json{{"tag", "testcase"}, {"classname", "A"}, {"name", "D5"}, {"time", "0"}}));
  EXPECT_EQ(all[5], (json{{"tag", "failure"}, {"type", "fail"}, {"message", "D5 is so"}}));
  EXPECT_EQ(all[8], (json{{"tag", "error"}, {"type", "too_close"}, {"message", "D5 is so"}}));
  EXPECT_EQ(all[11], (json{{"tag", "error"}, {"type", "not_measured"}, {"message", "D5 is so"}}));
  EXPECT_EQ(all[14]["tag"], "skipped");
}

TEST(JUnitReport, IsWholeXmlWhateverTheNamesHold) {
  std::string all_controls;
  for (char letter = 1; letter < 0x20; ++letter) all_controls += letter;
  for (const std::string& odd :
       {std::string("<&>\"']]>"), all_controls, std::string("\x7f é \xF0\x9D\x84\x9E \uFFFE\uFFFF\uFFFD")}) {
    auto entry = judged_as(VerdictResult::fail, odd);
    entry.subject.stage = odd;
    entry.judged[0].message = odd;
    const json all = report_of({entry});
    ASSERT_EQ(all.size(), 4U) << odd;
    EXPECT_EQ(all[3]["tag"], "failure");
  }
  EXPECT_EQ(report_of({judged_as(VerdictResult::fail, "<&>\"']]>")})[2]["classname"], "<&>\"']]>");
}

TEST(JUnitReport, NamesEachCriterion) {
  auto entry = made_up_entry("A", {0.0});
  for (const Criterion criterion : {Criterion::note, Criterion::spread, Criterion::heard, Criterion::octave,
                                    Criterion::head_place, Criterion::reach_of_a4, Criterion::take}) {
    entry.judged.emplace_back().judged.criterion = criterion;
    if (entry.judged.size() <= 3) entry.judged.back().judged.note = NoteId{78};
  }
  const json all = report_of({entry});
  std::vector<std::string> names;
  for (const json& each : all)
    if (each["tag"] == "testcase") names.push_back(each["name"]);
  EXPECT_EQ(names, (std::vector<std::string>{"F#5", "F#5 spread", "F#5 heard", "octave", "place of the head",
                                             "reach of A4", "take"}));
}

TEST(JUnitReport, HasACaseForATakeThatCouldNotBeReadAndNotesWhereNothingWasAsked) {
  auto unread = made_up_entry("A", {});
  unread.error = "no such file";
  const json all = report_of({unread, made_up_entry("B", {0.0, 1.0})});
  EXPECT_EQ(all[0]["tests"], "3");
  EXPECT_EQ(all[0]["errors"], "1");
  EXPECT_EQ(all[3]["message"], "no such file");
}

TEST(JUnitReport, OfNothingIsAnEmptyDocument) { EXPECT_EQ(report_of({})[0]["tests"], "0"); }

}  // namespace
}  // namespace windway
