// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cassert>
#include <cstdint>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "report/record/field.hpp"
#include "report/wording/choices.hpp"

namespace windway {

/// A value before it is written: a number, or text that may need quotes. Empty for what is absent or not finite.
struct CsvCell {
  std::string text;
  bool is_number = false;
};

/// A row's cells with their columns' names, so that header and rows come from one list.
using CsvRecord = std::vector<std::pair<std::string, CsvCell>>;

/// How a table is written: for programs, or for a spreadsheet whose country writes 0,5.
enum class CsvForm { point_and_commas, comma_and_semicolons };

CsvCell csv_cell(double value);
CsvCell csv_cell(bool value);
CsvCell csv_cell(int value);
CsvCell csv_cell(std::uint64_t value);
CsvCell csv_cell(const std::string& text);
CsvCell csv_cell(const char*) = delete;  // it would be taken for a bool
/// "name=content; name=content"; without those whose content is empty.
CsvCell csv_cell(const std::vector<std::pair<std::string, std::string>>& members);
template <typename Choice>
requires std::is_enum_v<Choice> CsvCell csv_cell(Choice choice) { return {word_of(choice)}; }
template <typename Value>
CsvCell csv_cell(const std::optional<Value>& value) {
  return value ? csv_cell(*value) : CsvCell{};
}

/// Adds a column for each field that it visits and that has one.
struct ColumnWriter {
  CsvRecord& record;
  std::string prefix = "";
  bool has_record = true;  ///< false: the cells stay empty

  template <typename Value>
  void operator()(const Field& field, const Value& value) const {
    if constexpr (requires { csv_cell(value); }) {
      if (field.is(in_csv)) record.emplace_back(prefix + field.key, has_record ? csv_cell(value) : CsvCell{});
    } else {
      assert(!field.is(in_csv));
    }
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const Estimate& estimate) const {
    visit_parts(*this, field, u95_key, std::optional(estimate));
  }
};

// One line each, CR LF at its end; cells are in quotes where RFC 4180 wants them. Text that a spreadsheet would run as
// a formula, as it begins with = + - @, a tab or CR, has a single quote before it (OWASP, "CSV Injection").
std::string csv_header(const CsvRecord& record, CsvForm form = CsvForm::point_and_commas);
std::string csv_row(const CsvRecord& record, CsvForm form = CsvForm::point_and_commas);

}  // namespace windway
