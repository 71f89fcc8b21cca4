// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/layout.hpp"

#include <utf8proc.h>

#include <algorithm>

namespace windway {
namespace {

std::string padded(const std::string& cell, std::size_t width, bool right_aligned) {
  const std::string space(width - display_width(cell), ' ');
  return right_aligned ? space + cell : cell + space;
}

std::vector<std::size_t> column_widths(const std::vector<Column>& columns,
                                       const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> widths;
  for (std::size_t column = 0; column < columns.size(); ++column) {
    std::size_t width = display_width(columns[column].header);
    for (const auto& row : rows) width = std::max(width, display_width(row[column]));
    widths.push_back(width);
  }
  return widths;
}

std::string line_of(const std::vector<Column>& columns, const std::vector<std::size_t>& widths,
                    const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t column = 0; column < columns.size(); ++column) {
    line += "  " + padded(cells[column], widths[column], columns[column].right_aligned);
  }
  line.erase(line.find_last_not_of(' ') + 1);
  return line + "\n";
}

std::size_t end_of_word(std::string_view text, std::size_t at) { return std::min(text.find(' ', at), text.size()); }

/// End of the words from `at` on that must stay on one line: a figure stays with its sign and its unit.
std::size_t end_of_unbroken(std::string_view text, std::size_t at) {
  constexpr std::size_t longest_unit = 3;  // "s.", "mm", "Hz."
  std::size_t end = end_of_word(text, at);
  while (end < text.size()) {
    const std::size_t next_end = end_of_word(text, end + 1);
    const bool is_figure = text[end - 1] >= '0' && text[end - 1] <= '9';
    const bool is_unit = is_figure && next_end - end - 1 <= longest_unit;
    if (!is_unit && !text.substr(at, end - at).ends_with("±")) break;
    end = next_end;
  }
  return end;
}

}  // namespace

std::size_t display_width(std::string_view utf8) {
  std::size_t width = 0;
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(utf8.data());
  for (std::size_t at = 0; at < utf8.size();) {
    utf8proc_int32_t code_point = 0;
    const utf8proc_ssize_t length =
        utf8proc_iterate(bytes + at, static_cast<utf8proc_ssize_t>(utf8.size() - at), &code_point);
    width += length > 0 ? static_cast<std::size_t>(utf8proc_charwidth(code_point)) : 1;
    at += length > 0 ? static_cast<std::size_t>(length) : 1;
  }
  return width;
}

std::string table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows) {
  const std::vector<std::size_t> widths = column_widths(columns, rows);
  std::vector<std::string> headers;
  for (const Column& column : columns) headers.push_back(column.header);
  std::string lines = line_of(columns, widths, headers);
  for (const auto& row : rows) lines += line_of(columns, widths, row);
  return lines;
}

std::string wrapped(std::string_view text, std::size_t hanging, std::size_t columns) {
  std::string lines;
  std::string line(text.substr(0, std::min(text.find_first_not_of(' '), text.size())));  // keeps a first indent
  bool starts_line = true;
  for (std::size_t at = line.size(); at < text.size();) {
    const std::size_t end = end_of_unbroken(text, at);
    const std::string_view words = text.substr(at, end - at);
    if (!starts_line && display_width(line) + 1 + display_width(words) > columns) {
      lines += line + "\n";
      line.assign(hanging, ' ');
      starts_line = true;
    }
    if (!starts_line) line += ' ';
    line += words;
    starts_line = false;
    at = end + 1;
  }
  return lines + line + "\n";
}

}  // namespace windway
