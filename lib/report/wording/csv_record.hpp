// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "units/units.hpp"

namespace windway {

/// A row's cells with their columns' names: header and rows come from one list and cannot part company.
using CsvRecord = std::vector<std::pair<std::string, std::string>>;

/// A number's cell; empty for what is not finite or not there.
std::string csv_cell(double value);
std::string csv_cell(const std::optional<double>& value);

/// A text's cell, in quotes where RFC 4180 wants them.
std::string csv_text(const std::string& text);

/// Two cells, empty where there is no estimate.
void append_estimate(CsvRecord& record, const char* cents_column, const char* u95_column,
                     const std::optional<CentsEstimate>& estimate);

// One line each, CR LF at its end.
std::string csv_header(const CsvRecord& record);
std::string csv_row(const CsvRecord& record);

}  // namespace windway
