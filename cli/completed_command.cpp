// SPDX-License-Identifier: GPL-3.0-or-later
#include "completed_command.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "options.hpp"

namespace windway::cli {
namespace {

/// Placeholders that stand for a file, alone or beside a name as in FILE|NAME.
bool is_of_file(const std::string& placeholder) {
  static constexpr const char* files[] = {"FILE", "TAKE", "RECORDING", "MELODY", "EARLIER"};
  return std::ranges::any_of(files, [&](const char* file) { return placeholder.find(file) != std::string::npos; });
}

Completed value_of(const CLI::Option& option, const std::vector<std::string>& choices) {
  if (option.get_items_expected_max() == 0) return Completed::nothing;
  if (!choices.empty()) return Completed::choice;
  return is_of_file(option.get_type_name()) ? Completed::file : Completed::any_word;
}

CompletedOption completed(CLI::Option& option) {
  CompletedOption result{{}, option.get_description(), option.get_type_name(), {}, choices_of(option)};
  for (const std::string& name : option.get_snames()) result.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) result.names.push_back("--" + name);
  std::ranges::replace(result.what, '\n', ' ');
  result.value = value_of(option, result.choices);
  return result;
}

CompletedCommand completed(CLI::App& command) {
  CompletedCommand result{command.get_name(), command.get_description(), {}, {}, false};
  for (CLI::Option* option : command.get_options()) {
    const bool is_operand = option->get_positional();
    if (is_operand) result.takes_files = option->get_name(true) != "NOTE";
    if (!is_operand) result.options.push_back(completed(*option));
  }
  return result;
}

}  // namespace

std::vector<CompletedCommand> completed_commands(CLI::App& program) {
  std::vector<CompletedCommand> commands{completed(program)};
  CompletedCommand help{"help", "explain a command", {}, {}, false};
  for (CLI::App* command : program.get_subcommands({})) {
    commands.push_back(completed(*command));
    help.words.push_back(command->get_name());
  }
  commands.push_back(help);
  return commands;
}

}  // namespace windway::cli
