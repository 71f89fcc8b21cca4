// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/junit.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <pugixml.hpp>
#include <set>
#include <sstream>
#include <type_traits>
#include <vector>

#include "report/lines/line_fields.hpp"
#include "report/wording/choices.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

struct Tally {
  int tests = 0;
  int failures = 0;
  int errors = 0;
  int skipped = 0;
};

/// Names that were taken are told apart by a number: "A5", "A5 2".
class UniqueNames {
 public:
  std::string unique(const std::string& name) {
    std::string own = name;
    for (int number = 2; !taken_.insert(own).second; ++number) own = name + " " + std::to_string(number);
    return own;
  }

 private:
  std::set<std::string> taken_;
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

/// Adds a <property> for each number that it visits and that there is.
struct PropertyWriter {
  pugi::xml_node& properties;

  void add(const char* name, const std::string& value) const {
    if (value.empty()) return;
    pugi::xml_node property = properties.append_child("property");
    set(property, "name", name);
    set(property, "value", value);
  }
  void operator()(const Field& field, const std::optional<double>& value) const {
    if (value) add(field.key, shortest(rounded(*value)));
  }
  template <typename Other>
  requires(!std::is_same_v<Other, std::optional<double>>) void operator()(const Field&, const Other&) const {}
};

void drop_if_empty(pugi::xml_node& parent, const pugi::xml_node& child) {
  if (!child.first_child()) parent.remove_child(child);
}

/// What is known of the take as a whole.
void add_properties(pugi::xml_node& suite, const BenchEntry& entry) {
  pugi::xml_node properties = suite.append_child("properties");
  const PropertyWriter write{properties};
  for (const SubjectText& each : subject_texts) write.add(each.name, (entry.subject.*each.text).value_or(""));
  if (entry.subject.retake) write.add("retake", std::to_string(*entry.subject.retake));
  write.add("recorded_at", entry.recorded_at.value_or(""));
  write.add("remark", entry.subject.remark.value_or(""));
  for (const auto& [name, content] : entry.subject.other) write.add(name.c_str(), content);
  write(Field{"slide_mm"}, entry.slide_mm);
  write(Field{"head_rests_mm"}, entry.head_rests_mm);
  write(Field{"home_a4_hz"}, entry.home_a4_hz);
  write(Field{"evenness_cents"}, entry.evenness_cents);
  for (const WarningCode code : entry.warnings) write.add("warning", std::string(text_of(code)));
  drop_if_empty(suite, properties);
}

/// Value, u95 and limits of what was judged, with their unit in their names.
void add_properties(pugi::xml_node& test, const Judged& judged) {
  pugi::xml_node properties = test.append_child("properties");
  JudgedWords words;
  if (judged.value) words.u95 = judged.u95;
  visit_judged(judged, words, PropertyWriter{properties});
  drop_if_empty(test, properties);
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

void add_case(pugi::xml_node& suite, const BenchEntry& entry, const EntryJudged& each, const std::string& name,
              Tally& tally) {
  pugi::xml_node test = suite.append_child("testcase");
  set(test, "classname", "");  // the suite's name, which is not known before all have come
  set(test, "name", name);
  set(test, "time", "0");
  add_properties(test, each.judged);
  ++tally.tests;
  if (!entry.counting.counts) {
    ++tally.skipped;
    pugi::xml_node skipped = test.append_child("skipped");
    set(skipped, "message",
        entry.counting.is_told_twice ? "this recording has a later result" : "a later take of this instrument counts");
    return;
  }
  if (each.judged.result == VerdictResult::pass) return;
  const bool fails = each.judged.result == VerdictResult::fail;
  ++(fails ? tally.failures : tally.errors);
  pugi::xml_node problem = test.append_child(fails ? "failure" : "error");
  set(problem, "type", word_of(each.judged.result));
  set(problem, "message", each.message);
}

/// "HW-0412 final 2"
std::string suite_name(const BenchEntry& entry) {
  std::string name = name_of(entry);
  if (entry.subject.stage) name += " " + *entry.subject.stage;
  if (entry.subject.retake) name += " " + std::to_string(*entry.subject.retake);
  return name;
}

/// Makes the suites' names unique, by their files where they would be alike, and tells them to their cases.
void name_suites(pugi::xml_node& suites) {
  std::map<std::string, int> count;
  for (const pugi::xml_node suite : suites.children("testsuite")) ++count[suite.attribute("name").value()];
  UniqueNames names;
  for (pugi::xml_node suite : suites.children("testsuite")) {
    std::string name = suite.attribute("name").value();
    if (count[name] > 1) name += std::string(" (") + suite.attribute("file").value() + ")";
    name = names.unique(name);
    suite.attribute("name").set_value(name.c_str());
    for (pugi::xml_node test : suite.children("testcase")) test.attribute("classname").set_value(name.c_str());
  }
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
  set(suite, "name", suite_name(entry));
  if (entry.recorded_at) set(suite, "timestamp", *entry.recorded_at);
  set(suite, "file", entry.path);
  add_properties(suite, entry);
  UniqueNames names;
  for (const EntryJudged& each : cases_of(entry))
    add_case(suite, entry, each, names.unique(case_name(entry, each)), tally);
  set(suite, tally);
  state_->all.tests += tally.tests;
  state_->all.failures += tally.failures;
  state_->all.errors += tally.errors;
  state_->all.skipped += tally.skipped;
}

std::string JUnitReport::text() {
  pugi::xml_node suites = state_->document.document_element();
  name_suites(suites);
  for (const char* name : {"name", "tests", "failures", "errors", "skipped"}) suites.remove_attribute(name);
  set(suites, "name", "windway batch");
  set(suites, state_->all);
  std::ostringstream text;
  state_->document.save(text, "  ");
  return text.str();
}

}  // namespace windway
