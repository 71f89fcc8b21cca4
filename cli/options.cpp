// SPDX-License-Identifier: GPL-3.0-or-later
#include "options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "error.hpp"
#include "report/wording/figures.hpp"
#include "units/nearest_word.hpp"
#include "units/read_number.hpp"

namespace windway::cli {
namespace {

/// Empty where the text is a number of the range, else what is wrong.
std::string mistake_in_number(const std::string& text, const NumberRange& range) {
  const auto value = number_in(text);
  if (value && *value >= range.least && *value <= range.most) return "";  // nan compares false
  if (text.find(',') != std::string::npos)
    return "'" + text + "' is not a number; decimals stand after a point, as in 440.5";
  const std::string wanted = shortest(range.least) + " to " + shortest(range.most) + " " + range.unit +
                             (range.remark.empty() ? "" : " (" + range.remark + ")");
  return "'" + text + (value ? "' is out of range" : "' is not a number") + "; give " + wanted;
}

std::string mistake_in_choice(const std::string& text, const std::vector<std::string>& choices) {
  if (std::count(choices.begin(), choices.end(), text) > 0) return "";
  std::string list;
  for (const std::string& choice : choices) {
    if (!list.empty()) list += choice == choices.back() ? " or " : ", ";
    list += choice;
  }
  return "'" + text + "' is none of " + list;
}

std::vector<std::string> option_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

/// `message` is CLI11's "The following argument was not expected: --word".
std::string unexpected_in_words(const std::string& message, const CLI::App& app) {
  const auto commands = app.get_subcommands();
  if (commands.empty()) return "the command stands first, as in: windway measure my-scale.wav --a4 440";
  const auto start = message.find(": ") + 2;
  const std::string option = message.substr(start, message.find_first_of(" =", start) - start);
  const auto meant = nearest_word(option, option_names(*commands.front()));
  return "unknown option " + option +
         (meant ? "; did you mean " + *meant + "?"
                : "; all options: windway " + commands.front()->get_name() + " --help");
}

/// `message` is CLI11's "--option: 1 required NUMBER missing", or "--option: At Most 1 required but received 2".
std::string mismatch_in_words(const std::string& message) {
  const bool is_repeated = message.find("received") != std::string::npos;
  return message.substr(0, message.find(':')) + (is_repeated ? " is given more than once" : " needs a value after it");
}

}  // namespace

void refuse(const std::string& message) { throw Error(ErrorKind::usage, message); }

void accept_numbers(CLI::Option* option, const NumberRange& range) {
  option->check([range](const std::string& text) { return mistake_in_number(text, range); });
  option->type_name(range.placeholder);
}

void accept_choices(CLI::Option* option, const std::vector<std::string>& choices) {
  option->check([choices](const std::string& text) { return mistake_in_choice(text, choices); });
}

std::vector<std::string> given_options(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options())
    if (option->count() > 0 && !option->get_lnames().empty()) names.push_back("--" + option->get_lnames().front());
  return names;
}

std::string help_of(const CLI::App& app) {
  std::string help = app.help();
  // CLI11 leaves two empty lines between groups where one does.
  for (auto at = help.find("\n\n\n"); at != std::string::npos; at = help.find("\n\n\n")) help.erase(at, 1);
  return help;
}

std::string in_words(const CLI::ParseError& mistake, const CLI::App& app) {
  std::string message = mistake.what();
  if (dynamic_cast<const CLI::ExtrasError*>(&mistake)) return unexpected_in_words(message, app);
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&mistake)) return mismatch_in_words(message);
  return message;
}

}  // namespace windway::cli
