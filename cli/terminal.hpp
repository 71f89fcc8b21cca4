// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway::cli {

/// Writes all of `text` to an open file descriptor. Gives 0, or the errno that stopped it.
int write_all(int descriptor, const std::string& text);

/// Writes a result to standard output. A reader that has closed the pipe has what it wants: no error. Throws Error
/// (kind output) where it cannot be written (disk full).
void print(const std::string& text);

/// One line on standard error: "windway: message".
void complain(const std::string& message);

}  // namespace windway::cli
