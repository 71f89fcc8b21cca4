// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace windway {

inline constexpr std::string_view not_utf8 =
    "is not UTF-8 text; save the table as CSV in UTF-8 (a spreadsheet asks for the character set)";

/// One cell that is not empty, and its place. Reading a wrong value throws Error (kind usage) with file, line, column
/// and remedy.
struct ManifestCell {
  const std::string& file;
  int line;
  const std::string& column;
  const std::string& content;
  char separator;

  /// A number with a decimal point, or a decimal comma where commas do not separate the cells.
  double number(double least, double most, const std::string& unit) const;
  /// Digits only.
  int whole_number() const;
  /// As recorded_at_in.
  std::string recorded_at() const;
  [[noreturn]] void refuse(const std::string& what) const;
};

}  // namespace windway
