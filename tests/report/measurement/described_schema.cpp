// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/described_schema.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <type_traits>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/fields.hpp"

namespace windway::report_tests {
namespace {

using Json = nlohmann::ordered_json;

template <typename Value>
struct Kind {
  using Inner = Value;
  static constexpr bool is_optional = false;
};
template <typename Value>
struct Kind<std::optional<Value>> {
  using Inner = Value;
  static constexpr bool is_optional = true;
};

template <typename Value>
const char* type_of() {
  if (std::is_same_v<Value, int>) return "integer";
  if (std::is_same_v<Value, bool>) return "boolean";
  return std::is_same_v<Value, std::string> ? "string" : "number";
}

/// A bound as people write it: 0, not 0.0.
Json bound(double value) { return value == std::floor(value) ? Json(static_cast<int>(value)) : Json(value); }

template <typename Value>
Json values_of(const Field& field) {
  using Inner = typename Kind<Value>::Inner;
  const bool may_be_null = Kind<Value>::is_optional || field.may_be_null;
  if (*field.definition) return {{"$ref", std::string("#/$defs/") + field.definition}};
  if constexpr (std::is_enum_v<Inner>) {
    Json words = Json::array();
    for (const Inner each : choices<Inner>) words.push_back(field_of(each));
    if (may_be_null) words.push_back(nullptr);
    return {{"enum", words}};
  } else {
    return {{"type", may_be_null ? Json{type_of<Inner>(), "null"} : Json(type_of<Inner>())}};
  }
}

/// Describes each field that it visits.
struct FieldDescriber {
  Json& properties;

  template <typename Value>
  void operator()(const Field& field, const Value&) const {
    Json property = values_of<Value>(field);
    if (*field.pattern) property["pattern"] = field.pattern;
    if (field.least) property["minimum"] = bound(*field.least);
    if (field.above) property["exclusiveMinimum"] = bound(*field.above);
    if (field.most) property["maximum"] = bound(*field.most);
    if (*field.meaning) property["description"] = field.meaning;
    properties[field.key] = property;
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, const Pair&) const {
    using Figure = std::conditional_t<Kind<Pair>::is_optional, std::optional<double>, double>;
    (*this)(field, Figure{});
    (*this)(u95_field, Figure{});
  }
};

/// Puts the fields that are visited in place of the record's own; what else it has stays. A field that it did not have
/// comes last. All are required.
template <typename VisitFields>
void describe(Json& record, const VisitFields& visit_fields) {
  visit_fields(FieldDescriber{record["properties"]});
  Json required = Json::array();
  for (const auto& property : record["properties"].items()) required.push_back(property.key());
  record["required"] = required;
}

bool has_properties(const Json& json) {
  if (json.is_object() && json.contains("properties")) return true;
  return json.is_structured() && std::any_of(json.begin(), json.end(), has_properties);
}

/// On one line, but a line for each field and for each member of what has fields.
std::string laid_out(const Json& json, const std::string& indent, bool are_fields) {
  if (!json.is_structured()) return json.dump(-1, ' ', false);
  const bool is_long = are_fields || has_properties(json);
  const std::string within = indent + "  ";
  std::string text;
  for (const auto& [key, value] : json.items()) {
    if (!text.empty()) text += is_long ? "," : ", ";
    if (is_long) text += "\n" + within;
    if (json.is_object()) text += Json(key).dump(-1, ' ', false) + ": ";
    text += laid_out(value, within, key == "properties" && !are_fields);
  }
  if (is_long) text += "\n" + indent;
  return json.is_object() ? "{" + text + "}" : "[" + text + "]";
}

}  // namespace

std::string described_schema(const std::string& schema) {
  Json json = Json::parse(schema);
  Json& records = json["$defs"];
  const NoteWords words;
  const MovedNote moved;
  const Compromise compromise;
  describe(records["take"], [](auto visit) { visit_take(TakeInfo{}, visit); });
  describe(records["settings"], [](auto visit) {
    visit_reference(MeasureSettings{}, visit);
    visit_conditions(MeasureSettings{}, std::optional<double>{}, visit);
  });
  describe(records["hold"], [](auto visit) { visit_hold(NamedHold{}, HoldWords{}, visit); });
  describe(records["note"], [&](auto visit) {
    visit_note(NoteBreath{}, words, visit);
    visit_air_column(moved, visit);
  });
  describe(records["note"]["properties"]["moved"], [&](auto visit) { visit_moved(moved, visit); });
  describe(records["compromise"], [&](auto visit) { visit_compromise(compromise, visit); });
  Json& of_move = records["compromise"]["properties"];
  describe(of_move["steady_blow"], [](auto visit) { visit_steady_blow(SteadyBlow{}, visit); });
  describe(of_move["check_note"], [&](auto visit) { visit_check_note(CheckNote{}, words, visit); });
  describe(records["drift"], [](auto visit) { visit_drift(Drift{}, 0.0, visit); });
  return laid_out(json, "", false) + "\n";
}

}  // namespace windway::report_tests
