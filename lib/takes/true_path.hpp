// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway {

/// The one absolute path of a file, however it was named: without links, "." and "..". What is not there is taken by
/// its name. Never throws for a bad path.
std::string true_path(const std::string& path);

}  // namespace windway
