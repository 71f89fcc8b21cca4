// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/junit.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

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

/// Those of that tag, in order.
std::vector<json> tagged(const json& elements, const std::string& tag) {
  std::vector<json> found;
  for (const json& each : elements)
    if (each["tag"] == tag) found.push_back(each);
  return found;
}

/// The values of the properties of that name, in order.
std::vector<std::string> properties_of(const json& elements, const std::string& name) {
  std::vector<std::string> values;
  for (const json& each : tagged(elements, "property"))
    if (each["name"] == name) values.push_back(each["value"]);
  return values;
}

BenchEntry judged_as(VerdictResult result, const std::string& serial) {
  auto entry = with_tolerance(10, made_up_entry(serial, {1.0}));
  entry.judged[0].judged.result = result;
  entry.judged[0].message = "D5 is so";
  return entry;
}

TEST(JUnitReport, CountsFailuresErrorsAndSkippedOfEachSuiteAndOfAll) {
  auto overtaken = judged_as(VerdictResult::fail, "E");
  overtaken.counting.counts = false;
  const json all =
      report_of({judged_as(VerdictResult::pass, "A"), judged_as(VerdictResult::fail, "B"),
                 judged_as(VerdictResult::too_close, "C"), judged_as(VerdictResult::not_measured, "D"), overtaken});
  EXPECT_EQ(all[0], (json{{"tag", "testsuites"},
                          {"name", "windway batch"},
                          {"tests", "5"},
                          {"failures", "1"},
                          {"errors", "2"},
                          {"skipped", "1"}}));
  EXPECT_EQ(tagged(all, "testsuite").at(0), (json{{"tag", "testsuite"},
                                                  {"name", "A"},
                                                  {"file", "A.wav"},
                                                  {"tests", "1"},
                                                  {"failures", "0"},
                                                  {"errors", "0"},
                                                  {"skipped", "0"}}));
  EXPECT_EQ(tagged(all, "testcase").at(0),
            (json{{"tag", "testcase"}, {"classname", "A"}, {"name", "D5"}, {"time", "0"}}));
  EXPECT_EQ(tagged(all, "failure"),
            (std::vector<json>{{{"tag", "failure"}, {"type", "fail"}, {"message", "D5 is so"}}}));
  EXPECT_EQ(tagged(all, "error"),
            (std::vector<json>{{{"tag", "error"}, {"type", "too_close"}, {"message", "D5 is so"}},
                               {{"tag", "error"}, {"type", "not_measured"}, {"message", "D5 is so"}}}));
  EXPECT_EQ(tagged(all, "skipped").size(), 1U);
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
    EXPECT_EQ(tagged(all, "failure").size(), 1U) << odd;
  }
  const json all = report_of({judged_as(VerdictResult::fail, "<&>\"']]>")});
  EXPECT_EQ(tagged(all, "testcase").at(0)["classname"], "<&>\"']]>");
  EXPECT_EQ(properties_of(all, "serial"), (std::vector<std::string>{"<&>\"']]>"}));
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
  for (const json& each : tagged(all, "testcase")) names.push_back(each["name"]);
  EXPECT_EQ(names, (std::vector<std::string>{"F#5", "F#5 spread", "F#5 heard", "octave", "place of the head",
                                             "reach of A4", "take"}));
}

TEST(JUnitReport, HasACaseForATakeThatCouldNotBeReadAndNotesWhereNothingWasAsked) {
  auto unread = made_up_entry("A", {});
  unread.error = "no such file";
  const json all = report_of({unread, made_up_entry("B", {0.0, 1.0})});
  EXPECT_EQ(all[0]["tests"], "3");
  EXPECT_EQ(all[0]["errors"], "1");
  EXPECT_EQ(tagged(all, "error").at(0)["message"], "no such file");
}

TEST(JUnitReport, SaysInPropertiesWhatIsKnownOfATake) {
  auto entry = judged_as(VerdictResult::pass, "HW-0412");
  entry.subject.stage = "final";
  entry.subject.retake = 2;
  entry.subject.lot = "pear 7";
  entry.subject.other = {{"shop", "north"}, {"shelf", ""}};
  entry.slide_mm = -1.25;
  entry.head_rests_mm = 4.5;
  entry.home_a4_hz = 441.5;
  entry.evenness_cents = 3.25;
  entry.warnings = {WarningCode::clipped, WarningCode::not_warm_yet};
  const json all = report_of({entry});
  using Values = std::vector<std::string>;
  EXPECT_EQ(properties_of(all, "serial"), (Values{"HW-0412"}));
  EXPECT_EQ(properties_of(all, "stage"), (Values{"final"}));
  EXPECT_EQ(properties_of(all, "retake"), (Values{"2"}));
  EXPECT_EQ(properties_of(all, "lot"), (Values{"pear 7"}));
  EXPECT_EQ(properties_of(all, "shop"), (Values{"north"}));
  EXPECT_EQ(properties_of(all, "shelf"), (Values{}));
  EXPECT_EQ(properties_of(all, "slide_mm"), (Values{"-1.25"}));
  EXPECT_EQ(properties_of(all, "head_rests_mm"), (Values{"4.5"}));
  EXPECT_EQ(properties_of(all, "home_a4_hz"), (Values{"441.5"}));
  EXPECT_EQ(properties_of(all, "evenness_cents"), (Values{"3.25"}));
  EXPECT_EQ(properties_of(all, "warning"), (Values{"clipped", "not_warm_yet"}));
}

TEST(JUnitReport, SaysInPropertiesWhatWasJudged) {
  auto entry = made_up_entry("A", {0.0});
  entry.judged.resize(3);
  entry.judged[0].judged = {.criterion = Criterion::note,
                            .result = VerdictResult::pass,
                            .note = NoteId{74},
                            .value = -7.5,
                            .u95 = 0.25,
                            .lower = -10,
                            .upper = 10};
  entry.judged[1].judged = {.criterion = Criterion::head_place,
                            .result = VerdictResult::pass,
                            .value = 5.5,
                            .u95 = 0.5,
                            .lower = 2,
                            .upper = 8};
  entry.judged[2].judged = {.criterion = Criterion::take};  // nothing to say in figures
  const json all = report_of({entry});
  using Values = std::vector<std::string>;
  EXPECT_EQ(properties_of(all, "value_cents"), (Values{"-7.5"}));
  EXPECT_EQ(properties_of(all, "u95_cents"), (Values{"0.25"}));
  EXPECT_EQ(properties_of(all, "lower_cents"), (Values{"-10"}));
  EXPECT_EQ(properties_of(all, "upper_cents"), (Values{"10"}));
  EXPECT_EQ(properties_of(all, "value_mm"), (Values{"5.5"}));
  EXPECT_EQ(properties_of(all, "upper_mm"), (Values{"8"}));
  EXPECT_EQ(tagged(all, "properties").size(), 3U);  // of the suite and of two cases
}

TEST(JUnitReport, CallsNoTwoSuitesAndNoTwoCasesOfOneAlike) {
  const auto take = [](const char* path, std::optional<int> retake) {
    auto entry = made_up_entry("HW-0412", {0.0, 1.0, 2.0});
    entry.path = path;
    entry.subject.stage = "final";
    entry.subject.retake = retake;
    entry.notes[1].id = {74, "vented"};
    entry.notes[2].id = {74, ""};
    return entry;
  };
  const json all = report_of({take("a.wav", 1), take("b.wav", 2), take("c.wav", 2), take("c.wav", 2)});
  std::vector<std::string> suites, cases;
  for (const json& each : tagged(all, "testsuite")) suites.push_back(each["name"]);
  for (const json& each : tagged(all, "testcase"))
    cases.push_back(each["classname"].get<std::string>() + "/" + each["name"].get<std::string>());
  EXPECT_EQ(suites, (std::vector<std::string>{"HW-0412 final 1", "HW-0412 final 2 (b.wav)", "HW-0412 final 2 (c.wav)",
                                              "HW-0412 final 2 (c.wav) 2"}));
  EXPECT_EQ(cases.at(0), "HW-0412 final 1/D5");
  EXPECT_EQ(cases.at(1), "HW-0412 final 1/D5 vented");
  EXPECT_EQ(cases.at(2), "HW-0412 final 1/D5 2");
  EXPECT_EQ(std::set<std::string>(cases.begin(), cases.end()).size(), cases.size());
}

TEST(JUnitReport, OfNothingIsAnEmptyDocument) { EXPECT_EQ(report_of({})[0]["tests"], "0"); }

}  // namespace
}  // namespace windway
