// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/junit.hpp"

#include <algorithm>
#include <pugixml.hpp>
#include <sstream>
#include <vector>

#include "report/wording/choices.hpp"

namespace windway {
namespace {

struct Tally {
  int tests = 0;
  int failures = 0;
  int errors = 0;
  int skipped = 0;
};

/// XML 1.0 has no way to write most control characters, nor U+FFFE and U+FFFF.
std::string xml_text(std::string text) {
  for (const char* none : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"})
    for (auto at = text.find(none); at != std::string::npos; at = text.find(none, at)) text.replace(at, 3, "?");
  std::ranges::replace_if(
      text, [](unsigned char letter) { return letter < 0x20 && letter != '\t' && letter != '\n' && letter != '\r'; },
      '?');
  return text;
}

void set(pugi::xml_node& node, const char* name, const std::string& text) {
  node.append_attribute(name).set_value(xml_text(text).c_str());
}

void set(pugi::xml_node& node, const Tally& tally) {
  node.append_attribute("tests").set_value(tally.tests);
  node.append_attribute("failures").set_value(tally.failures);
  node.append_attribute("errors").set_value(tally.errors);
  node.append_attribute("skipped").set_value(tally.skipped);
}

std::string case_name(const BenchEntry& entry, const EntryJudged& each) {
  const Judged& judged = each.judged;
  const std::string note = judged.note ? spelt(entry, *judged.note) : "";
  switch (judged.criterion) {
    case Criterion::note:
      return note;
    case Criterion::spread:
      return note + " spread";
    case Criterion::heard:
      return note + " heard";
    case Criterion::octave:
      return "octave";
    case Criterion::head_place:
      return "place of the head";
    case Criterion::reach_of_a4:
      return "reach of A4";
    case Criterion::take:
      break;
  }
  return "take";
}

/// The take's cases; where nothing was asked, its notes.
std::vector<EntryJudged> cases_of(const BenchEntry& entry) {
  std::vector<EntryJudged> cases = entry.judged;
  if (!cases.empty()) return cases;
  for (const EntryNote& note : entry.notes)
    cases.emplace_back().judged = {.criterion = Criterion::note, .result = VerdictResult::pass, .note = note.id};
  if (!entry.error.empty()) cases.emplace_back().message = entry.error;
  return cases;
}

void add_case(pugi::xml_node& suite, const BenchEntry& entry, const EntryJudged& each, Tally& tally) {
  pugi::xml_node test = suite.append_child("testcase");
  set(test, "classname", name_of(entry));
  set(test, "name", case_name(entry, each));
  set(test, "time", "0");
  ++tally.tests;
  if (!entry.counting.counts) {
    ++tally.skipped;
    pugi::xml_node skipped = test.append_child("skipped");
    set(skipped, "message", "a later take of this instrument counts");
    return;
  }
  if (each.judged.result == VerdictResult::pass) return;
  const bool fails = each.judged.result == VerdictResult::fail;
  ++(fails ? tally.failures : tally.errors);
  pugi::xml_node problem = test.append_child(fails ? "failure" : "error");
  set(problem, "type", word_of(each.judged.result));
  set(problem, "message", each.message);
}

}  // namespace

struct JUnitReport::State {
  pugi::xml_document document;
  Tally all;
};

JUnitReport::JUnitReport() : state_(std::make_unique<State>()) { state_->document.append_child("testsuites"); }
JUnitReport::~JUnitReport() = default;

void JUnitReport::add(const BenchEntry& entry) {
  pugi::xml_node suite = state_->document.document_element().append_child("testsuite");
  Tally tally;
  set(suite, "name", entry.subject.stage ? name_of(entry) + " " + *entry.subject.stage : name_of(entry));
  if (entry.recorded_at) set(suite, "timestamp", *entry.recorded_at);
  set(suite, "file", entry.path);
  for (const EntryJudged& each : cases_of(entry)) add_case(suite, entry, each, tally);
  set(suite, tally);
  state_->all.tests += tally.tests;
  state_->all.failures += tally.failures;
  state_->all.errors += tally.errors;
  state_->all.skipped += tally.skipped;
}

std::string JUnitReport::text() {
  pugi::xml_node suites = state_->document.document_element();
  for (const char* name : {"name", "tests", "failures", "errors", "skipped"}) suites.remove_attribute(name);
  set(suites, "name", "windway batch");
  set(suites, state_->all);
  std::ostringstream text;
  state_->document.save(text, "  ");
  return text.str();
}

}  // namespace windway
