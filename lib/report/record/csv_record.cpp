// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/csv_record.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "report/wording/figures.hpp"

namespace windway {
namespace {

std::string number_in(std::string number, CsvForm form) {
  if (form == CsvForm::comma_and_semicolons) std::ranges::replace(number, '.', ',');
  return number;
}

std::string guarded(const std::string& text) {
  const bool would_run = !text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos;
  return would_run ? "'" + text : text;
}

std::string text_in(const std::string& text, char separator) {
  const std::string harmless = guarded(text);
  if (harmless.find_first_of(std::string("\"\r\n") + separator) == std::string::npos) return harmless;
  std::string quoted = "\"";
  for (const char letter : harmless) quoted += letter == '"' ? "\"\"" : std::string(1, letter);
  return quoted + "\"";
}

char separator_of(CsvForm form) { return form == CsvForm::comma_and_semicolons ? ';' : ','; }

template <typename CellOf>
std::string line_of(const CsvRecord& record, CsvForm form, CellOf cell_of) {
  const char separator = separator_of(form);
  std::string line;
  for (const auto& column : record) {
    const CsvCell cell = cell_of(column);
    if (&column != &record.front()) line += separator;
    line += cell.is_number ? number_in(cell.text, form) : text_in(cell.text, separator);
  }
  return line + "\r\n";
}

}  // namespace

CsvCell csv_cell(double value) { return {std::isfinite(value) ? shortest(rounded(value)) : "", true}; }
CsvCell csv_cell(bool value) { return {value ? "true" : "false"}; }
CsvCell csv_cell(int value) { return {std::to_string(value), true}; }
CsvCell csv_cell(std::uint64_t value) { return {std::to_string(value), true}; }
CsvCell csv_cell(const std::string& text) { return {text}; }

CsvCell csv_cell(const std::vector<std::pair<std::string, std::string>>& members) {
  std::string text;
  for (const auto& [name, content] : members)
    if (!content.empty()) text.append(text.empty() ? "" : "; ").append(name + "=" + content);
  return {text};
}

std::string csv_header(const CsvRecord& record, CsvForm form) {
  return line_of(record, form, [](const auto& column) { return CsvCell{column.first}; });
}

std::string csv_row(const CsvRecord& record, CsvForm form) {
  return line_of(record, form, [](const auto& column) { return column.second; });
}

}  // namespace windway
