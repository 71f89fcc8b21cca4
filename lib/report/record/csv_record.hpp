// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "report/record/field.hpp"
#include "report/wording/choices.hpp"

namespace windway {

/// A row's cells with their columns' names, so that header and rows come from one list.
using CsvRecord = std::vector<std::pair<std::string, std::string>>;

// A value's cell; empty for what is absent or not finite.
std::string csv_cell(double value);
std::string csv_cell(bool value);
std::string csv_cell(int value);
std::string csv_cell(const std::string& text);  ///< in quotes where RFC 4180 wants them
std::string csv_cell(const char*) = delete;     // it would be taken for a bool
/// "name=content; name=content"
std::string csv_cell(const std::vector<std::pair<std::string, std::string>>& members);
template <typename Choice>
requires std::is_enum_v<Choice> std::string csv_cell(Choice choice) { return word_of(choice); }
template <typename Value>
std::string csv_cell(const std::optional<Value>& value) {
  return value ? csv_cell(*value) : "";
}

/// Adds a column for each field that it visits and that has one.
struct ColumnWriter {
  CsvRecord& record;
  std::string prefix = "";
  bool has_record = true;  ///< false: the cells stay empty

  template <typename Value>
  void operator()(const Field& field, const Value& value) const {
    if constexpr (requires { csv_cell(value); }) {
      if (field.is(in_csv)) record.emplace_back(prefix + field.key, has_record ? csv_cell(value) : "");
    } else {
      assert(!field.is(in_csv));
    }
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const Estimate& estimate) const {
    visit_parts(*this, field, u95_key, std::optional(estimate));
  }
};

// One line each, CR LF at its end.
std::string csv_header(const CsvRecord& record);
std::string csv_row(const CsvRecord& record);

}  // namespace windway
