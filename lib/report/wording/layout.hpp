// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

/// No line of a text report is wider unless its reader's terminal is, except where a single word is.
inline constexpr std::size_t text_columns = 80;

/// Columns that UTF-8 text takes on a terminal: combining marks none, East Asian wide characters two; a byte that is no
/// UTF-8 one.
std::size_t display_width(std::string_view utf8);

/// The text with what would act on a terminal made visible: control characters, marks that turn the direction of
/// writing, and bytes that are no UTF-8, each as \xNN or \uNNNN, a line feed as \n. Names of files and instruments may
/// hold any of them.
std::string shown(std::string_view text);

struct Column {
  std::string header;
  bool right_aligned = false;
  int left_out = 0;  ///< where the table is too wide: 0 never, else columns of the greatest number go first, together
};

/// Lines of a table of shown() cells, two spaces before each column, aligned by display width; no spaces at the ends of
/// lines. Every row has a cell for each column. Columns that may be left out are, until no line is wider than
/// `most_columns`.
std::string table(std::vector<Column> columns, std::vector<std::vector<std::string>> rows,
                  std::size_t most_columns = text_columns);

/// True if no line of `lines` is wider than `columns`.
bool fits(std::string_view lines, std::size_t columns);

/// Breaks shown() text at spaces to `columns`, but not between a figure and its unit or its sign, not within '...', and
/// not within a command to type, which follows a colon ("..., ask: windway measure a.wav"). Lines after the first start
/// with `hanging` spaces. Ends with a line feed.
std::string wrapped(std::string_view text, std::size_t hanging = 0, std::size_t columns = text_columns);

}  // namespace windway
