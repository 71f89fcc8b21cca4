// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

/// No line of a text report is wider, except where a single word is.
inline constexpr std::size_t text_columns = 100;

/// Columns that UTF-8 text takes on a terminal: combining marks none, East Asian wide characters two; a byte that is no
/// UTF-8 one.
std::size_t display_width(std::string_view utf8);

struct Column {
  std::string header;
  bool right_aligned = false;
};

/// Lines of a table, two spaces before each column, aligned by display width; no spaces at the ends of lines. Every row
/// has a cell for each column.
std::string table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows);

/// Breaks text at spaces to so many columns, but not between a figure and its unit or its sign; lines after the first
/// start with `hanging` spaces. Ends with a line feed.
std::string wrapped(std::string_view text, std::size_t hanging = 0, std::size_t columns = text_columns);

}  // namespace windway
