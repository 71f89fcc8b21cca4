// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

struct CsvTableRow {
  int line = 0;  ///< of the text, from 1, where the row begins
  std::vector<std::string> cells;
};

/// The rows of a table in CSV (RFC 4180), empty lines left out. Throws Error (kind usage) where a quote is not closed
/// or stands where none may be; `name` stands for the file in it.
std::vector<CsvTableRow> csv_rows(const std::string& text, char separator, const std::string& name);

}  // namespace windway
