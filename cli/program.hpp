// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <utility>
#include <vector>

#include "command.hpp"

namespace windway::cli {

/// Declares the whole command line: the program's own options and its commands; gives what each command does if it was
/// called.
std::vector<std::pair<const CLI::App*, Action>> declare_program(CLI::App& app);

}  // namespace windway::cli
