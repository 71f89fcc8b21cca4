// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "report/record/field.hpp"
#include "report/wording/choices.hpp"

namespace windway {

// The text of a value as JSON, on one line. Numbers have at most six decimals; what is absent or not finite is null.
std::string json_text(double value);
std::string json_text(bool value);
std::string json_text(int value);
std::string json_text(std::uint64_t value);
std::string json_text(const std::string& value);  ///< what is no UTF-8 comes out as U+FFFD
std::string json_text(const char*) = delete;      // it would be taken for a bool
std::string json_text(const std::vector<std::pair<std::string, std::string>>& members);
std::string json_text(InPercent<const double> value);
template <typename Choice>
requires std::is_enum_v<Choice> std::string json_text(Choice choice);
template <typename Value>
std::string json_text(const std::optional<Value>& value);
template <typename Item>
std::string json_text(const std::vector<Item>& items);
template <typename Value, typename VisitFields>
std::string json_text(const Nested<Value, VisitFields>& nested);

/// Adds each field that it visits to an object that is begun with a brace.
struct JsonWriter {
  std::string& object;
  bool has_record = true;  ///< false: every field is null

  template <typename Value>
  void operator()(const Field& field, const Value& value) const {
    const std::string text = has_record ? json_text(value) : "null";
    add(field.key, field.is(nullable) && text == "\"\"" ? "null" : text);
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const Estimate& estimate) const {
    visit_parts(*this, field, u95_key, std::optional(estimate));
  }
  void add(const char* key, const std::string& text_of_value) const;
};

/// The object of the fields that `visit_fields(visit)` visits, on one line.
template <typename VisitFields>
std::string json_object(VisitFields visit_fields) {
  std::string object = "{";
  visit_fields(JsonWriter{object});
  return object + "}";
}

/// The same text with a line for each value, indented.
std::string laid_out(const std::string& json);

/// What wrote a document.
template <typename Visit>
void visit_program(const std::string& version, Visit&& visit) {
  visit(Field{"name"}, std::string("windway"));
  visit(Field{"version"}, version);
}

/// A document of its own: schema, program, and what `visit_fields(visit)` visits.
template <typename VisitFields>
std::string json_document(const std::string& schema, const std::string& program_version,
                          const VisitFields& visit_fields) {
  return laid_out(json_object([&](const JsonWriter& write) {
           write(Field{"schema"}, schema);
           write(Field{"program"},
                 Nested{program_version, [](const auto& version, auto&& visit) { visit_program(version, visit); }});
           visit_fields(write);
         })) +
         "\n";
}

template <typename Choice>
requires std::is_enum_v<Choice> std::string json_text(Choice choice) { return json_text(std::string(word_of(choice))); }

template <typename Value>
std::string json_text(const std::optional<Value>& value) {
  return value ? json_text(*value) : "null";
}

template <typename Item>
std::string json_text(const std::vector<Item>& items) {
  std::string list = "[";
  for (const Item& item : items) list += (list.size() > 1 ? "," : "") + json_text(item);
  return list + "]";
}

template <typename Record, typename VisitFields>
std::string nested_text(const Record& record, VisitFields visit_fields) {
  return json_object([&](const JsonWriter& write) { visit_fields(record, write); });
}

template <typename Record, typename VisitFields>
std::string nested_text(const std::optional<Record>& record, VisitFields visit_fields) {
  return record ? nested_text(*record, visit_fields) : "null";
}

template <typename Record, typename VisitFields>
std::string nested_text(const std::vector<Record>& records, VisitFields visit_fields) {
  std::string list = "[";
  for (const Record& record : records) list += (list.size() > 1 ? "," : "") + nested_text(record, visit_fields);
  return list + "]";
}

template <typename Value, typename VisitFields>
std::string json_text(const Nested<Value, VisitFields>& nested) {
  return nested_text(nested.value, nested.visit_fields);
}

}  // namespace windway
