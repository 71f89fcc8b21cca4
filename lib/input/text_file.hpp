// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

namespace windway {

/// All of a text file, or of a pipe. `what` it is: "the manifest". Throws Error (kind usage) with the remedy: missing,
/// a folder, a device, no permission, or more than `most_bytes`.
std::string text_file(const std::string& path, const std::string& what, std::size_t most_bytes);

}  // namespace windway
