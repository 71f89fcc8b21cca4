// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/manifest.hpp"

#include <algorithm>
#include <charconv>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

#include "batch/csv_table.hpp"
#include "error.hpp"
#include "recording/recorded_at.hpp"

namespace windway {
namespace {

/// One cell with where it stands, for what is said of a mistake.
struct Cell {
  const std::string& file;
  int line;
  const std::string& column;
  std::string content;

  [[noreturn]] void refuse(const std::string& what) const {
    throw Error(ErrorKind::usage,
                file + ", line " + std::to_string(line) + ", column " + column + ": '" + content + "' " + what);
  }
};

/// Surrounding blanks are nobody's meaning.
std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(" \t");
  return begin == std::string::npos ? "" : text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

double number_in(const Cell& cell, double least, double most, const std::string& unit) {
  std::string text = cell.content;
  std::ranges::replace(text, ',', '.');  // a table separated by semicolons has decimal commas as a rule
  double value = 0;
  const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool is_number = failure == std::errc{} && end == text.data() + text.size();
  if (!is_number || !(value >= least && value <= most)) {
    cell.refuse("is no number of " + unit + " from " + std::to_string(static_cast<int>(least)) + " to " +
                std::to_string(static_cast<int>(most)) + "; correct it, or leave the cell empty");
  }
  return value;
}

std::string date_in(const Cell& cell) {
  if (const auto date = iso_8601(cell.content)) return *date;
  cell.refuse(
      "is no date as ISO 8601 writes it, as in 2026-11-25 or 2026-11-25T09:30; correct it, or leave the cell empty");
}

void set_cell(ManifestRow& row, const Cell& cell) {
  static const std::map<std::string, std::optional<std::string> Subject::*> texts{
      {"serial", &Subject::serial},     {"stage", &Subject::stage}, {"lot", &Subject::lot},
      {"material", &Subject::material}, {"head", &Subject::head},   {"operator", &Subject::operator_name},
      {"remark", &Subject::remark}};
  if (cell.content.empty()) return;
  if (const auto text = texts.find(cell.column); text != texts.end()) {
    row.subject.*(text->second) = cell.content;
  } else if (cell.column == "take") {
    row.take = cell.content;
  } else if (cell.column == "retake") {
    const double retake = number_in(cell, 0, 1000000, "retakes");
    if (retake != static_cast<int>(retake)) cell.refuse("is no whole number");
    row.subject.retake = static_cast<int>(retake);
  } else if (cell.column == "bore_temp_c") {
    row.bore_temp_c = number_in(cell, 0, 45, "degrees Celsius");
  } else if (cell.column == "head_out_mm") {
    row.head_out_mm = number_in(cell, 0, 100, "mm");
  } else if (cell.column == "recorded_at") {
    row.subject.recorded_at = date_in(cell);
  } else {
    row.subject.other.emplace_back(cell.column, cell.content);
  }
}

char separator_of(const std::string& text) {
  const std::string first = text.substr(0, text.find('\n'));
  if (first.find(',') != std::string::npos) return ',';
  if (first.find(';') != std::string::npos) return ';';
  return first.find('\t') != std::string::npos ? '\t' : ',';
}

std::vector<std::string> columns_of(const CsvTableRow& head, const std::string& name) {
  std::vector<std::string> columns;
  std::set<std::string> seen;
  const std::string where = name + ", line " + std::to_string(head.line) + ": ";
  for (const std::string& cell : head.cells) {
    columns.push_back(trimmed(cell));
    if (!columns.back().empty() && !seen.insert(columns.back()).second)
      throw Error(ErrorKind::usage, where + "the column " + columns.back() + " stands twice; leave one out");
  }
  if (!seen.contains("take")) {
    throw Error(ErrorKind::usage, where +
                                      "no column is called take; the first line names the columns, as in "
                                      "take,serial,stage,head_out_mm");
  }
  return columns;
}

ManifestRow row_of(const CsvTableRow& cells, const std::vector<std::string>& columns, const std::string& name) {
  const std::string where = name + ", line " + std::to_string(cells.line) + ": ";
  if (cells.cells.size() != columns.size()) {
    throw Error(ErrorKind::usage, where + std::to_string(cells.cells.size()) + " cells, but " +
                                      std::to_string(columns.size()) +
                                      " columns; a cell with a separator in it stands in "
                                      "quotation marks");
  }
  ManifestRow row;
  row.line = cells.line;
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (!columns[i].empty()) set_cell(row, {name, cells.line, columns[i], trimmed(cells.cells[i])});
  if (row.take.empty()) throw Error(ErrorKind::usage, where + "names no take; give its file in the column take");
  return row;
}

}  // namespace

Manifest manifest_from_csv(const std::string& text, const std::string& name) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  const std::string content = text.starts_with(byte_order_mark) ? text.substr(byte_order_mark.size()) : text;
  const std::vector<CsvTableRow> table = csv_rows(content, separator_of(content), name);
  if (table.empty()) {
    throw Error(ErrorKind::usage, name + ": is empty; its first line names the columns, as in take,serial,stage");
  }
  const std::vector<std::string> columns = columns_of(table.front(), name);
  Manifest manifest{name, {}};
  std::map<std::string, int> line_of_take;
  for (std::size_t i = 1; i < table.size(); ++i) {
    manifest.rows.push_back(row_of(table[i], columns, name));
    const ManifestRow& row = manifest.rows.back();
    const auto [first, is_new] = line_of_take.emplace(row.take, row.line);
    if (!is_new) {
      throw Error(ErrorKind::usage, name + ", line " + std::to_string(row.line) + ": the take " + row.take +
                                        " stands in line " + std::to_string(first->second) + " already; leave one out");
    }
  }
  return manifest;
}

Manifest read_manifest(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw Error(ErrorKind::usage, "cannot read the manifest " + path + ": no such file, or no right to read it");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  if (file.bad()) throw Error(ErrorKind::usage, "cannot read the manifest " + path + ": is it a folder?");
  return manifest_from_csv(text, path);
}

}  // namespace windway
