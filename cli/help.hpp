// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace windway::cli {

/// Help pages of the program and of the commands declared after this keep within 80 columns.
void lay_out_help(CLI::App& app);

/// -h and --help of a command, the last of its options.
void add_help_option(CLI::App& command);

/// The help of the command that was called, else of the program.
std::string help_of(const CLI::App& app);

/// `help` and `help measure` as they are otherwise asked for: `--help`, `measure --help`; other words as they are.
std::vector<std::string> with_help_as_option(const std::vector<std::string>& words);

}  // namespace windway::cli
