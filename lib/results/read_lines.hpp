// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace windway {

/// Reads an open file from where it stands to its end and calls `see` with each whole line, without its line feed.
/// Gives what stands behind the last line feed. Of a line beyond 64 MiB, which no result is, only as much is seen.
/// Throws std::system_error where it cannot be read.
std::string read_lines(int descriptor, const std::function<void(std::string_view)>& see);

}  // namespace windway
