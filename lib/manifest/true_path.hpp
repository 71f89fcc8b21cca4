// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway {

/// The canonical absolute path of a file, without links, "." and "..". The part that does not exist is kept as written.
/// Never throws for a bad path.
std::string true_path(const std::string& path);

}  // namespace windway
