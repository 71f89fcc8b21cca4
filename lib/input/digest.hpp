// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace windway {

/// SHA-256 (FIPS 180-4) of an open file's content, as 64 lower-case hexadecimal digits. The file's offset does not
/// move. Throws std::system_error where the disk fails.
std::string sha256_of_file(int descriptor);

/// SHA-256 of the file of that name; empty where it cannot be read.
std::string sha256_of_path(const std::string& path);

std::string sha256_of_text(std::string_view text);

}  // namespace windway
