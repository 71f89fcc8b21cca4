// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway {

/// SHA-256 (FIPS 180-4) of everything an open file holds, as 64 lower-case hexadecimal digits. Reads by position: the
/// file's own offset stays where it is. Throws std::system_error where the disk fails.
std::string sha256_of_file(int descriptor);

}  // namespace windway
