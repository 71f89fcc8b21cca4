// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/described_schema.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <type_traits>

#include "bench/judged_take.hpp"
#include "report/bench/history_fields.hpp"
#include "report/bench/summary_fields.hpp"
#include "report/lines/line_fields.hpp"
#include "report/measurement/figures_fields.hpp"
#include "report/measurement/takes_fields.hpp"
#include "report/player/card_fields.hpp"
#include "report/player/check_fields.hpp"
#include "report/player/player_fields.hpp"
#include "report/player/take_history_fields.hpp"

namespace windway::report_tests {
namespace {

using Json = nlohmann::ordered_json;
using Members = std::vector<std::pair<std::string, std::string>>;

template <typename Value>
struct JsonKind {
  using Inner = Value;
  static constexpr bool is_optional = false;
  static constexpr bool is_list = false;
};
template <typename Value>
struct JsonKind<std::optional<Value>> {
  using Inner = Value;
  static constexpr bool is_optional = true;
  static constexpr bool is_list = false;
};
template <typename Value>
struct JsonKind<std::vector<Value>> {
  using Inner = Value;
  static constexpr bool is_optional = false;
  static constexpr bool is_list = true;
};

template <typename Value>
const char* type_of() {
  if (std::is_same_v<Value, bool>) return "boolean";
  if (std::is_integral_v<Value>) return "integer";
  return std::is_same_v<Value, std::string> ? "string" : "number";
}

/// "Its u95, cents; null with it."
std::string meaning_of_u95(const std::string& key, bool is_optional) {
  std::string unit;
  if (key.find("cents") != std::string::npos) unit = ", cents";
  if (key.ends_with("_hz")) unit = ", Hz";
  if (key.find("per_db") != std::string::npos) unit = ", cents per dB";
  return "Its u95" + unit + (is_optional ? "; null with it." : ".");
}

/// Describes each field that it visits as a property of a record. `definitions`: those of the whole schema.
struct FieldDescriber {
  Json& properties;
  const Json& definitions;

  template <typename Value>
  void operator()(const Field& field, const Value&) const {
    Json property = values_of<Value>(field);
    if (*field.pattern) property["pattern"] = field.pattern;
    const Json type = property.value("type", Json());
    const bool is_text = type == "string" || (type.is_array() && type[0] == "string");
    const bool has_length = JsonKind<Value>::is_list || is_text;
    const char* length = JsonKind<Value>::is_list ? "minItems" : "minLength";
    if (field.is(at_least_1)) property[has_length ? length : "minimum"] = 1;
    if (field.is(at_least_0)) property["minimum"] = 0;
    if (field.is(above_0)) property["exclusiveMinimum"] = 0;
    if (field.is(at_most_1)) property["maximum"] = 1;
    if (field.is(at_most_100)) property["maximum"] = 100;
    add(field, property);
  }

  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const Estimate&) const {
    constexpr bool is_optional = JsonKind<Estimate>::is_optional;
    using Figure = std::conditional_t<is_optional, std::optional<double>, double>;
    const std::string meaning = meaning_of_u95(u95_key, is_optional);
    Field u95_field = u95_of(field, u95_key);
    u95_field.meaning = meaning.c_str();
    (*this)(field, Figure{});
    (*this)(u95_field, Figure{});
  }

  template <typename Value, typename VisitFields>
  void operator()(const Field& field, const Nested<Value, VisitFields>& nested) const {
    if (*field.definition) return add(field, reference(field));
    using Inner = typename JsonKind<Value>::Inner;
    Json record{{"type", JsonKind<Value>::is_optional ? Json{"object", "null"} : Json("object")}};
    if (!JsonKind<Value>::is_list && *field.meaning) record["description"] = field.meaning;
    Json inner = Json::object();
    nested.visit_fields(Inner{}, FieldDescriber{inner, definitions});
    record["required"] = keys_of(inner);
    record["properties"] = inner;
    if (!JsonKind<Value>::is_list) return add({field.key}, record);
    Json list{{"type", "array"}};
    if (field.is(at_least_1)) list["minItems"] = 1;
    list["items"] = record;
    add(field, list);
  }

  static Json keys_of(const Json& properties) {
    Json keys = Json::array();
    for (const auto& property : properties.items()) keys.push_back(property.key());
    return keys;
  }

 private:
  static Json reference(const Field& field) { return {{"$ref", std::string("#/$defs/") + field.definition}}; }

  void add(const Field& field, Json property) const {
    if (*field.meaning) property["description"] = field.meaning;
    properties[field.key] = property;
  }

  /// Whether null is among the values of the definition.
  bool takes_null(const char* name) const {
    const Json& definition = definitions.at(name);
    const Json values = definition.contains("enum") ? definition["enum"] : definition.value("type", Json());
    return values.is_array() &&
           std::ranges::any_of(values, [](const Json& value) { return value.is_null() || value == "null"; });
  }

  template <typename Value>
  Json values_of(const Field& field) const {
    using Inner = typename JsonKind<Value>::Inner;
    if constexpr (std::is_same_v<Value, Members>) {
      return {{"type", "object"}, {"additionalProperties", {{"type", "string"}}}};
    } else if (JsonKind<Value>::is_list) {
      const Json items = *field.definition ? reference(field) : Json{{"type", type_of<Inner>()}};
      return {{"type", "array"}, {"items", items}};
    } else if (*field.definition) {
      const bool adds_null = JsonKind<Value>::is_optional && !takes_null(field.definition);
      return adds_null ? Json{{"anyOf", {reference(field), {{"type", "null"}}}}} : reference(field);
    } else {
      return plain_values_of<Value>(field);
    }
  }

  template <typename Value>
  static Json plain_values_of(const Field& field) {
    using Inner = typename JsonKind<Value>::Inner;
    const bool may_be_null = JsonKind<Value>::is_optional || field.is(nullable);
    if constexpr (std::is_enum_v<Inner>) {
      Json words(choice_words<Inner>);
      if (may_be_null) words.push_back(nullptr);
      return {{"enum", words}};
    } else {
      return {{"type", may_be_null ? Json{type_of<Inner>(), "null"} : Json(type_of<Inner>())}};
    }
  }
};

/// A schema whose records are described anew. What else a record has stays; a field that it did not have comes last.
class Described {
 public:
  explicit Described(const std::string& schema) : json_(Json::parse(schema)), definitions_(json_["$defs"]) {}

  /// The record at this place, all of whose fields are required.
  template <typename VisitFields>
  void describe(const std::string& place, const VisitFields& visit_fields) {
    describe_some(place, visit_fields);
    Json& record = json_[Json::json_pointer(place)];
    record["required"] = FieldDescriber::keys_of(record["properties"]);
  }
  /// The same, `required` as it is.
  template <typename VisitFields>
  void describe_some(const std::string& place, const VisitFields& visit_fields) {
    visit_fields(FieldDescriber{json_[Json::json_pointer(place)]["properties"], definitions_});
  }
  /// Takes all properties of the whole document away but these.
  void keep_only(const std::vector<std::string>& keys) {
    Json kept = Json::object();
    for (const std::string& key : keys) kept[key] = json_["properties"][key];
    json_["properties"] = kept;
  }
  const Json& json() const { return json_; }

 private:
  Json json_;
  Json definitions_;
};

bool has_properties(const Json& json) {
  if (json.is_object() && json.contains("properties")) return true;
  return json.is_structured() && std::any_of(json.begin(), json.end(), has_properties);
}

/// On one line, but a line for each field and for each member of what has fields.
std::string laid_out_by_fields(const Json& json, const std::string& indent, bool are_fields) {
  if (!json.is_structured()) return json.dump(-1, ' ', false);
  const bool is_long = are_fields || has_properties(json);
  const std::string within = indent + "  ";
  std::string text;
  for (const auto& [key, value] : json.items()) {
    if (!text.empty()) text += is_long ? "," : ", ";
    if (is_long) text += "\n" + within;
    if (json.is_object()) text += Json(key).dump(-1, ' ', false) + ": ";
    text += laid_out_by_fields(value, within, key == "properties" && !are_fields);
  }
  if (is_long) text += "\n" + indent;
  return json.is_object() ? "{" + text + "}" : "[" + text + "]";
}

void describe_measurement(Described& schema) {
  const std::string name;
  const MovedNote moved;
  const Compromise compromise;
  schema.describe("/$defs/take", [](auto visit) { visit_take(TakeInfo{}, visit); });
  schema.describe_some("/properties/subject", [](auto visit) { visit_subject(Subject{}, visit); });
  schema.describe_some("/$defs/settings", [](auto visit) { visit_reference(MeasureSettings{}, visit); });
  schema.describe("/$defs/settings",
                  [](auto visit) { visit_conditions(MeasureSettings{}, std::optional<double>{}, visit); });
  const std::string settings = "/$defs/settings/properties";
  schema.describe(settings + "/temperament", [](auto visit) { visit_temperament(TemperamentWords{}, visit); });
  schema.describe(settings + "/instrument", [](auto visit) { visit_whole_instrument(InstrumentWords{}, visit); });
  schema.describe("/$defs/hold", [](auto visit) { visit_hold(NamedHold{}, HoldWords{}, visit); });
  schema.describe("/$defs/note", [&](auto visit) {
    visit_note(NoteBreath{}, name, visit);
    visit_air_column(moved, visit);
  });
  schema.describe("/$defs/note/properties/moved", [&](auto visit) { visit_moved(moved, visit); });
  schema.describe("/$defs/compromise", [&](auto visit) { visit_compromise(compromise, visit); });
  const std::string of_move = "/$defs/compromise/properties";
  schema.describe(of_move + "/steady_blow", [](auto visit) { visit_steady_blow(SteadyBlow{}, visit); });
  schema.describe(of_move + "/check_note", [&](auto visit) { visit_check_note(CheckNote{}, name, visit); });
  schema.describe("/$defs/drift", [](auto visit) { visit_drift(Drift{}, 0.0, visit); });
  schema.describe("/$defs/pictured",
                  [&](auto visit) { visit_pictured(PicturedNote{}, name, BlowLevels{}, true, visit); });
  schema.describe("/$defs/left_out", [](auto visit) { visit_left_out(LeftOut{}, visit); });
  schema.describe("/$defs/loudness", [](auto visit) { visit_loudness(0, PowerCurve{}, std::vector<double>{}, visit); });
  schema.describe("/$defs/hold_curve",
                  [](auto visit) { visit_hold_curve(0, std::vector<double>{}, std::vector<double>{}, visit); });
  schema.describe("/$defs/places", [](auto visit) { visit_whole_places(HeadPlaces{}, visit); });
  schema.describe("/$defs/agreement", [](auto visit) { visit_whole_agreement(TakeAgreement{}, visit); });
  schema.describe_some("", [](auto visit) { visit_error(std::string(), visit); });
  schema.describe("/$defs/batch", [](auto visit) {
    visit_counting(Counting{}, visit);
    visit_of_batch(JudgedTake{}, visit);
  });
  schema.describe("/$defs/verdict", [](auto visit) { visit_verdict(Verdict{}, visit); });
  schema.describe("/$defs/verdict/properties/worst_step", [](auto visit) { visit_uneven_step(UnevenStep{}, visit); });
  schema.describe("/$defs/verdict/properties/work/items", [&](auto visit) { visit_work(WorkAdvice{}, name, visit); });
  for (const Criterion criterion : {Criterion::note, Criterion::head_place})
    schema.describe_some("/$defs/judged",
                         [&](auto visit) { visit_judged(Judged{.criterion = criterion}, JudgedWords{}, visit); });
}

void describe_whole(Described& schema, const std::string& format) {
  schema.keep_only({"schema", "program"});
  schema.describe("", [&](auto visit) {
    if (format == "windway.card.v1") return visit_card(HeadCard{}, Measurement{}, InstrumentWords{}, visit);
    if (format == "windway.check.v1") return visit_check(HeadCheck{}, 0.0, visit);
    if (format == "windway.comparison.v1") return visit_comparison(Comparison{}, visit);
    if (format == "windway.partner.v1") return visit_partner(Partner{}, visit);
    if (format == "windway.playing.v1") return visit_playing(Playing{}, {}, visit);
    if (format == "windway.protocol.v1") return visit_protocol(Protocol{}, visit);
    if (format == "windway.summary.v1") return visit_summary(BenchTally{}, BenchFindings{}, visit);
    if (format == "windway.take_history.v1") return visit_take_history(TakeHistory{}, visit);
    if (format == "windway.history.v1") return visit_history(History{}, {}, visit);
    throw std::invalid_argument("no list of fields for " + format);
  });
}

}  // namespace

std::string described_schema(const std::string& schema) {
  Described described(schema);
  const std::string format = described.json()["properties"]["schema"]["const"];
  format == "windway.measurement.v1" ? describe_measurement(described) : describe_whole(described, format);
  if (described.json()["$defs"].contains("warnings"))
    described.describe("/$defs/warnings/items", [](auto visit) { visit_warning(Warning{}, visit); });
  return laid_out_by_fields(described.json(), "", false) + "\n";
}

}  // namespace windway::report_tests
