// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "warning.hpp"

namespace windway::cli {

/// Writes a result to standard output. A reader that has closed the pipe has what it wants: no error. Throws Error
/// (kind output) where it cannot be written (disk full).
void print(const std::string& text);

/// Columns that text on standard output may take: the terminal's, where it is one; 80 in a pipe or a file.
std::size_t columns_of_output();

/// On standard error: "windway: message", within 80 columns or the terminal's; lines after the first are indented.
void complain(const std::string& message);

/// Each as a line "windway: warning: ..." on standard error, for formats that have no place for them.
void complain_of(const Warnings& warnings);

}  // namespace windway::cli
