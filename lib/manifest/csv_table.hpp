// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

struct CsvTableRow {
  int line = 0;  ///< number of its first line in the text, from 1
  std::vector<std::string> cells;
};

/// The rows of a table in CSV (RFC 4180), without empty lines. Throws Error (kind usage), naming the file `name`, where
/// a quote is not closed or not allowed.
std::vector<CsvTableRow> csv_rows(const std::string& text, char separator, const std::string& name);

}  // namespace windway
