// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/csv_record.hpp"

#include <cmath>

#include "report/wording/fields.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

template <typename CellOf>
std::string line_of(const CsvRecord& record, CellOf cell_of) {
  std::string line;
  bool is_first = true;
  for (const auto& column : record) {
    line += (is_first ? "" : ",") + std::string(cell_of(column));
    is_first = false;
  }
  return line + "\r\n";
}

}  // namespace

std::string csv_cell(double value) { return std::isfinite(value) ? shortest(rounded(value)) : ""; }
std::string csv_cell(const std::optional<double>& value) { return value ? csv_cell(*value) : ""; }

std::string csv_text(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string cell = "\"";
  for (const char letter : text) cell += letter == '"' ? "\"\"" : std::string(1, letter);
  return cell + "\"";
}

void append_estimate(CsvRecord& record, const char* cents_column, const char* u95_column,
                     const std::optional<CentsEstimate>& estimate) {
  record.emplace_back(cents_column, estimate ? csv_cell(estimate->cents) : "");
  record.emplace_back(u95_column, estimate ? csv_cell(estimate->u95_cents) : "");
}

std::string csv_header(const CsvRecord& record) {
  return line_of(record, [](const auto& column) { return column.first; });
}

std::string csv_row(const CsvRecord& record) {
  return line_of(record, [](const auto& column) { return column.second; });
}

}  // namespace windway
