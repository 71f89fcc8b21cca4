// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/csv_record.hpp"

#include <cmath>

#include "report/wording/figures.hpp"

namespace windway {
namespace {

std::string line_of(const CsvRecord& record, std::string CsvRecord::value_type::*part) {
  std::string line;
  for (const auto& column : record) line += (&column == &record.front() ? "" : ",") + column.*part;
  return line + "\r\n";
}

}  // namespace

std::string csv_cell(double value) { return std::isfinite(value) ? shortest(rounded(value)) : ""; }
std::string csv_cell(bool value) { return value ? "true" : "false"; }
std::string csv_cell(int value) { return std::to_string(value); }

std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string cell = "\"";
  for (const char letter : text) cell += letter == '"' ? "\"\"" : std::string(1, letter);
  return cell + "\"";
}

std::string csv_cell(const std::vector<std::pair<std::string, std::string>>& members) {
  std::string text;
  for (const auto& [name, content] : members) text.append(text.empty() ? "" : "; ").append(name + "=" + content);
  return csv_cell(text);
}

std::string csv_header(const CsvRecord& record) { return line_of(record, &CsvRecord::value_type::first); }
std::string csv_row(const CsvRecord& record) { return line_of(record, &CsvRecord::value_type::second); }

}  // namespace windway
