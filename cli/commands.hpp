// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "command.hpp"

namespace windway::cli {

/// The names of the program's commands in the order in which the help lists them.
const std::vector<std::string>& command_names();

/// Declares all commands; gives what each of them does if it was called.
std::vector<std::pair<const CLI::App*, Action>> declare_commands(CLI::App& app);

}  // namespace windway::cli
