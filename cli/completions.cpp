// SPDX-License-Identifier: GPL-3.0-or-later
#include "completions.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <span>

namespace windway::cli {
namespace {

constexpr auto origin = "# windway's commands and options, as the program itself declares them.\n";

using Options = std::vector<CompletedOption>;

/// `text` with a backslash before each of `characters`.
std::string escaped(const std::string& text, std::string_view characters) {
  std::string result;
  for (const char character : text) {
    if (characters.find(character) != std::string_view::npos) result += '\\';
    result += character;
  }
  return result;
}

/// As one word of bash and zsh.
std::string in_quotes(const std::string& text) {
  std::string result = "'";
  for (const char character : text) result += character == '\'' ? std::string("'\\''") : std::string(1, character);
  return result + "'";
}

/// The names of all options whose value is of this sort, separated by "|"; empty where there are none.
std::string alternatives(const Options& options, Completed value) {
  std::vector<std::string> names;
  for (const CompletedOption& option : options)
    if (option.value == value) names.insert(names.end(), option.names.begin(), option.names.end());
  return fmt::format("{}", fmt::join(names, "|"));
}

std::string all_names(const Options& options) {
  std::vector<std::string> names;
  for (const CompletedOption& option : options) names.insert(names.end(), option.names.begin(), option.names.end());
  return fmt::format("{}", fmt::join(names, " "));
}

std::string names_of(std::span<const CompletedCommand> commands) {
  std::vector<std::string> names;
  for (const CompletedCommand& command : commands) names.push_back(command.name);
  return fmt::format("{}", fmt::join(names, " "));
}

/// What bash does within one command.
std::string bash_case(const CompletedCommand& command) {
  std::string text = fmt::format("    {})\n      options='{}'\n", command.name, all_names(command.options));
  if (!command.takes_files) text += "      files=no\n";
  if (!command.words.empty())
    text += fmt::format("      ((cword > 2)) || values='{}'\n", fmt::join(command.words, " "));
  text += "      case $prev in\n";
  for (const CompletedOption& option : command.options)
    if (option.value == Completed::choice)
      text += fmt::format("        {}) values='{}' ;;\n", fmt::join(option.names, "|"), fmt::join(option.choices, " "));
  if (const auto names = alternatives(command.options, Completed::file); !names.empty())
    text += fmt::format("        {}) _filedir; return ;;\n", names);
  if (const auto names = alternatives(command.options, Completed::any_word); !names.empty())
    text += fmt::format("        {}) return ;;\n", names);
  return text + "      esac ;;\n";
}

/// A value stands after its option or after an equals sign.
std::string zsh_name(const std::string& name, Completed value) {
  return "*" + name + (value != Completed::nothing && name.starts_with("--") ? "=" : "");
}

std::string zsh_value(const CompletedOption& option) {
  const std::string placeholder = escaped(option.placeholder, ":");
  if (option.value == Completed::choice) return fmt::format(":{}:({})", placeholder, fmt::join(option.choices, " "));
  if (option.value == Completed::file) return ":" + placeholder + ":_files";
  return option.value == Completed::any_word ? ":" + placeholder + ": " : "";
}

/// The arguments of zsh's _arguments for these options, a line each.
std::string zsh_options(const Options& options) {
  std::string text;
  for (const CompletedOption& option : options) {
    const std::string rest = "[" + escaped(option.what, "[]:\\") + "]" + zsh_value(option);
    for (const std::string& name : option.names)
      text += fmt::format(" \\\n        {}", in_quotes(zsh_name(name, option.value) + rest));
  }
  return text;
}

std::string zsh_operands(const CompletedCommand& command) {
  if (!command.words.empty()) return fmt::format(" '1: :({})'", fmt::join(command.words, " "));
  return command.takes_files ? " \\\n        '*: :_files'" : "";
}

std::string fish_quoted(const std::string& text) { return "'" + escaped(text, "'\\") + "'"; }

std::string fish_value(const CompletedOption& option) {
  if (option.value == Completed::choice)
    return " -x -a " + fish_quoted(fmt::format("{}", fmt::join(option.choices, " ")));
  if (option.value == Completed::file) return " -r -F";
  return option.value == Completed::any_word ? " -x" : "";
}

/// Lines of fish that offer the options where `condition` holds.
std::string fish_options(const Options& options, const std::string& condition) {
  std::string text;
  for (const CompletedOption& option : options) {
    text += "complete -c windway -n " + fish_quoted(condition);
    for (const std::string& name : option.names)
      text += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
    text += fish_value(option) + " -d " + fish_quoted(option.what) + "\n";
  }
  return text;
}

}  // namespace

std::string bash_completion(const std::vector<CompletedCommand>& commands) {
  const std::span<const CompletedCommand> called(commands.begin() + 1, commands.end());
  std::string text = std::string(origin) +
                     "_windway() {\n"
                     "  local cur prev words cword split options values files=yes\n"
                     "  _init_completion -s || return\n"
                     "  if ((cword == 1)); then\n"
                     "    COMPREPLY=($(compgen -W '" +
                     names_of(called) + " " + all_names(commands.front().options) +
                     "' -- \"$cur\"))\n"
                     "    return\n"
                     "  fi\n"
                     "  case ${words[1]} in\n";
  for (const CompletedCommand& command : called) text += bash_case(command);
  return text +
         "  esac\n"
         "  if [[ $values ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$values\" -- \"$cur\"))\n"
         "  elif [[ $cur == -* ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$cur\"))\n"
         "  elif [[ $files == yes ]]; then\n"
         "    _filedir\n"
         "  fi\n"
         "} &&\n"
         "  complete -F _windway windway\n";
}

std::string zsh_completion(const std::vector<CompletedCommand>& commands) {
  const std::span<const CompletedCommand> called(commands.begin() + 1, commands.end());
  std::string text = "#compdef windway\n" + std::string(origin) +
                     "_windway() {\n"
                     "  local state line\n"
                     "  local -a commands=(\n";
  for (const CompletedCommand& command : called)
    text += "    " + in_quotes(escaped(command.name, ":") + ":" + command.purpose) + "\n";
  text += "  )\n  _arguments -C" + zsh_options(commands.front().options) +
          " \\\n        '1: :->command' '*:: :->rest'\n"
          "  case $state in\n"
          "    command) _describe command commands ;;\n"
          "    rest) case $words[1] in\n";
  for (const CompletedCommand& command : called)
    text += "      " + command.name + ") _arguments" + zsh_options(command.options) + zsh_operands(command) + " ;;\n";
  return text + "    esac ;;\n  esac\n}\n_windway \"$@\"\n";
}

std::string fish_completion(const std::vector<CompletedCommand>& commands) {
  std::string text = std::string(origin) + "complete -c windway -f\n" +
                     fish_options(commands.front().options, "__fish_use_subcommand");
  for (const CompletedCommand& command : std::span(commands.begin() + 1, commands.end())) {
    text += "complete -c windway -n __fish_use_subcommand -a " + command.name + " -d " + fish_quoted(command.purpose) +
            "\n";
    const std::string condition = "contains " + command.name + " (commandline -opc)[2]";
    text += fish_options(command.options, condition);
    if (!command.words.empty())
      text += "complete -c windway -n " + fish_quoted(condition) + " -a " +
              fish_quoted(fmt::format("{}", fmt::join(command.words, " "))) + "\n";
    if (command.takes_files) text += "complete -c windway -n " + fish_quoted(condition) + " -F\n";
  }
  return text;
}

}  // namespace windway::cli
