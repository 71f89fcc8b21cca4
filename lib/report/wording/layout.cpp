// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/layout.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace windway {
namespace {

struct CodePoints {
  std::uint32_t first;
  std::uint32_t last;
};

// The blocks that a file name or a note's name can bring in: Unicode Standard Annex 11 (East Asian Width), in the main.
constexpr std::array<CodePoints, 5> no_columns{
    {{0x0300, 0x036F}, {0x200B, 0x200F}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFEFF, 0xFEFF}}};
constexpr std::array<CodePoints, 8> two_columns{{{0x1100, 0x115F},
                                                 {0x2E80, 0xA4CF},
                                                 {0xAC00, 0xD7A3},
                                                 {0xF900, 0xFAFF},
                                                 {0xFE30, 0xFE6F},
                                                 {0xFF00, 0xFF60},
                                                 {0x1F300, 0x1FAFF},
                                                 {0x20000, 0x3FFFD}}};

template <std::size_t count>
bool is_in(const std::array<CodePoints, count>& blocks, std::uint32_t code_point) {
  return std::any_of(blocks.begin(), blocks.end(), [code_point](const CodePoints& block) {
    return block.first <= code_point && code_point <= block.last;
  });
}

std::size_t columns_of(std::uint32_t code_point) {
  if (is_in(no_columns, code_point)) return 0;
  return is_in(two_columns, code_point) ? 2 : 1;
}

bool is_continuation(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// What a first byte of a UTF-8 sequence gives to its code point.
std::uint32_t leading_bits(char byte) {
  const auto bits = static_cast<unsigned char>(byte);
  if (bits < 0x80) return bits;
  if (bits < 0xE0) return bits & 0x1FU;
  return bits < 0xF0 ? bits & 0x0FU : bits & 0x07U;
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
  for (std::size_t at = 0; at < utf8.size();) {
    std::uint32_t code_point = leading_bits(utf8[at++]);
    while (at < utf8.size() && is_continuation(utf8[at])) {
      code_point = (code_point << 6U) | (static_cast<unsigned char>(utf8[at++]) & 0x3FU);
    }
    width += columns_of(code_point);
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

std::string wrapped(std::string_view text, std::size_t hanging) {
  std::string lines;
  std::string line(text.substr(0, std::min(text.find_first_not_of(' '), text.size())));  // keeps a first indent
  bool starts_line = true;
  for (std::size_t at = line.size(); at < text.size();) {
    const std::size_t end = end_of_unbroken(text, at);
    const std::string_view words = text.substr(at, end - at);
    if (!starts_line && display_width(line) + 1 + display_width(words) > text_columns) {
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
