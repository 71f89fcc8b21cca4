// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

namespace windway {

/// What bounds the values of a field, and who needs it; joined by |.
enum FieldTraits : unsigned {
  at_least_0 = 1U << 0U,
  at_least_1 = 1U << 1U,  ///< a text or a list is not empty
  above_0 = 1U << 2U,
  at_most_1 = 1U << 3U,
  at_most_100 = 1U << 4U,
  nullable = 1U << 5U,  ///< may be null although its type has a value for everything; an empty text is
  required = 1U << 6U,  ///< a saved result without it cannot be used
  in_csv = 1U << 7U,    ///< has a column
  in_line = 1U << 8U    ///< is read from a line of windway batch: the bench's statistics need it
};

constexpr FieldTraits operator|(FieldTraits one, FieldTraits other) {
  return static_cast<FieldTraits>(static_cast<unsigned>(one) | static_cast<unsigned>(other));
}

/// One field of a record as programs read it. JSON, the columns of CSV, the readers of saved results and the shipped
/// JSON Schemas follow from it. A record's list of fields is a function that visits each: `visit(field, value)`, or
/// `visit(field, key of its u95, estimate)`. Values are numbers, bool, text, a choice (wording/choices.hpp), lists of
/// them, any of them optional, and Nested.
struct Field {
  const char* key = "";      ///< with the unit in it
  const char* meaning = "";  ///< a sentence for the schema: what it is, its unit, what null says
  FieldTraits traits{};
  const char* definition = "";  ///< what the schema calls this kind of value: "note_name", "midi"; empty: none
  const char* pattern = "";     ///< a regular expression that every text matches

  constexpr bool is(FieldTraits trait) const { return (traits & trait) != 0; }
};

/// The u95 of an estimate is there and is read where the estimate is.
constexpr Field u95_of(const Field& field, const char* key) {
  const FieldTraits shared = in_csv | in_line | nullable;
  return {key, "", static_cast<FieldTraits>(field.traits & shared) | at_least_0};
}

/// Visits both parts of an estimate, for writers; without an estimate both are absent.
template <typename Visit, typename Estimate>
void visit_parts(const Visit& visit, const Field& field, const char* u95_key, const std::optional<Estimate>& estimate) {
  std::optional<double> part, part_u95;
  if (estimate) {
    const auto& [value, u95] = *estimate;
    part = value;
    part_u95 = u95;
  }
  visit(field, part);
  visit(u95_of(field, u95_key), part_u95);
}

/// A record within a record, perhaps absent, or a list of records: `visit_fields(one, visit)` visits the fields of one.
template <typename Value, typename VisitFields>
struct Nested {
  const Value& value;
  VisitFields visit_fields;
};
template <typename Value, typename VisitFields>
Nested(const Value&, VisitFields) -> Nested<Value, VisitFields>;

/// A share from 0 to 1 that is written in percent.
template <typename Number>
struct InPercent {
  Number& share;
};

template <typename Number>
InPercent<Number> in_percent(Number& share) {
  return {share};
}

}  // namespace windway
