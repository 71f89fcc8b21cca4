// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "command.hpp"

namespace windway::cli {

/// What may stand after an option, or instead of one.
enum class Completed { nothing, choice, file, any_word };

/// An option as a shell completes it.
struct CompletedOption {
  std::vector<std::string> names;  ///< "-h", "--help"
  std::string what;                ///< one line
  std::string placeholder;         ///< "HZ"
  Completed value = Completed::nothing;
  std::vector<std::string> choices;
};

/// A command, or the program itself, as a shell completes it.
struct CompletedCommand {
  std::string name;
  std::string purpose;
  std::vector<CompletedOption> options;
  std::vector<std::string> words;  ///< of which one may follow its name
  bool takes_files = false;        ///< instead of options
};

/// The program first, then its commands in the order of the help, then `help` itself.
std::vector<CompletedCommand> completed_commands(CLI::App& program);

}  // namespace windway::cli
