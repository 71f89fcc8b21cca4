// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/layout.hpp"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <numeric>

namespace windway {
namespace {

/// Turns the direction of writing until it is ended (Unicode Standard Annex 9).
bool is_direction_mark(utf8proc_int32_t code_point) {
  return (code_point >= 0x202A && code_point <= 0x202E) || (code_point >= 0x2066 && code_point <= 0x2069);
}

/// One code point of `bytes`, which it is read from.
std::string shown_code_point(utf8proc_int32_t code_point, std::string_view bytes) {
  if (code_point == '\n') return "\\n";
  if (is_direction_mark(code_point)) return fmt::format("\\u{:04x}", code_point);
  const bool is_control = code_point < 0 || utf8proc_category(code_point) == UTF8PROC_CATEGORY_CC;
  if (!is_control) return std::string(bytes);
  return fmt::format("\\x{:02x}", code_point < 0 ? static_cast<unsigned char>(bytes.front()) : code_point);
}

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

std::size_t width_of(const std::vector<std::size_t>& widths) {
  return std::accumulate(widths.begin(), widths.end(), 2 * widths.size());
}

/// Leaves out the columns that go first; false where none may go.
bool leave_out_least(std::vector<Column>& columns, std::vector<std::vector<std::string>>& rows) {
  const int first = std::ranges::max_element(columns, {}, &Column::left_out)->left_out;
  if (first == 0) return false;
  for (std::size_t at = columns.size(); at-- > 0;) {
    if (columns[at].left_out != first) continue;
    const auto place = static_cast<std::ptrdiff_t>(at);
    columns.erase(columns.begin() + place);
    for (auto& row : rows) row.erase(row.begin() + place);
  }
  return true;
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

/// End of the word at `at`; a word that begins with a quote goes on to its closing quote.
std::size_t end_of_word(std::string_view text, std::size_t at) {
  const std::size_t closing = at < text.size() && text[at] == '\'' ? text.find('\'', at + 1) : std::string_view::npos;
  return std::min(text.find(' ', closing == std::string_view::npos ? at : closing), text.size());
}

/// True if a command to type begins at `at`: it follows a colon.
bool begins_command(std::string_view text, std::size_t at) {
  const bool follows_colon = at >= 2 && text[at - 1] == ' ' && text[at - 2] == ':';
  return follows_colon && (text.substr(at).starts_with("windway ") || text.substr(at).starts_with("ffmpeg "));
}

/// A command ends with the text, or before what follows a semicolon.
std::size_t end_of_command(std::string_view text, std::size_t at) {
  const std::size_t semicolon = text.find("; ", at);
  return semicolon == std::string_view::npos ? text.size() : semicolon + 1;
}

/// End of the words from `at` on that must stay on one line: a figure stays with its sign and its unit.
std::size_t end_of_unbroken(std::string_view text, std::size_t at) {
  constexpr std::size_t longest_unit = 3;  // "s.", "mm", "Hz."
  if (begins_command(text, at)) return end_of_command(text, at);
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

std::string shown(std::string_view text) {
  std::string result;
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data());
  for (std::size_t at = 0; at < text.size();) {
    utf8proc_int32_t code_point = -1;
    const auto left = static_cast<utf8proc_ssize_t>(text.size() - at);
    const utf8proc_ssize_t read = utf8proc_iterate(bytes + at, left, &code_point);
    const std::size_t length = read > 0 ? static_cast<std::size_t>(read) : 1;
    result += shown_code_point(read > 0 ? code_point : -1, text.substr(at, length));
    at += length;
  }
  return result;
}

std::string table(std::vector<Column> columns, std::vector<std::vector<std::string>> rows, std::size_t most_columns) {
  for (auto& row : rows) std::ranges::transform(row, row.begin(), shown);
  while (width_of(column_widths(columns, rows)) > most_columns && leave_out_least(columns, rows)) {
  }
  const std::vector<std::size_t> widths = column_widths(columns, rows);
  std::vector<std::string> headers;
  for (const Column& column : columns) headers.push_back(column.header);
  std::string lines = line_of(columns, widths, headers);
  for (const auto& row : rows) lines += line_of(columns, widths, row);
  return lines;
}

bool fits(std::string_view lines, std::size_t columns) {
  for (std::size_t at = 0; at < lines.size();) {
    const std::size_t end = std::min(lines.find('\n', at), lines.size());
    if (display_width(lines.substr(at, end - at)) > columns) return false;
    at = end + 1;
  }
  return true;
}

std::string wrapped(std::string_view any_text, std::size_t hanging, std::size_t columns) {
  const std::string shown_text = shown(any_text);
  const std::string_view text = shown_text;
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
