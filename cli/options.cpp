// SPDX-License-Identifier: GPL-3.0-or-later
#include "options.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <optional>
#include <sstream>

#include "error.hpp"
#include "report/wording/figures.hpp"
#include "suggestions.hpp"
#include "units/read_number.hpp"

namespace windway::cli {
namespace {

/// Empty where the text is a number of the range, else what is wrong.
std::string mistake_in_number(const std::string& text, const NumberRange& range) {
  const auto value = number_in(text);
  if (value && *value >= range.least && *value <= range.most) return "";  // nan compares false
  if (text.find(',') != std::string::npos)
    return "'" + text + "' is not a number; write decimals after a point, as in 440.5";
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

/// `message` is CLI11's "The following arguments were not expected: word --option=1 ...": the first option among them,
/// without its value, else the first word.
std::string unexpected_word(const std::string& message) {
  std::istringstream words(message.substr(message.find(": ") + 2));
  std::string first, word;
  while (words >> word) {
    if (word.starts_with('-')) return word.substr(0, word.find('='));
    if (first.empty()) first = word;
  }
  return first;
}

std::string unexpected_in_words(const std::string& message, const CLI::App& app) {
  const std::string word = unexpected_word(message);
  const bool is_option = word.starts_with('-');
  const auto commands = app.get_subcommands();
  const auto meant = is_option ? option_meant(word, option_names(commands.empty() ? app : *commands.front()))
                               : std::optional<std::string>();
  if (meant == word && !commands.empty())
    return "put " + word + " after the command, as in: windway " + commands.front()->get_name() + " my-scale.wav " +
           word + " ...";
  if (meant) return "unknown option " + word + "; did you mean " + *meant + "?";
  if (commands.empty()) return "put the command first, as in: windway measure my-scale.wav --a4 440";
  return (is_option ? "unknown option " + word : "'" + word + "' is one word too many") + "; all options: windway " +
         commands.front()->get_name() + " --help";
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
  option->check([choices](const std::string& text) { return mistake_in_choice(text, choices); }, "",
                fmt::format("{}", fmt::join(choices, "|")));
}

std::vector<std::string> choices_of(CLI::Option& option) {
  std::vector<std::string> choices;
  try {
    std::istringstream names(option.get_validator(0)->get_name());
    for (std::string choice; std::getline(names, choice, '|');) choices.push_back(choice);
  } catch (const CLI::OptionNotFound&) {  // any value will do
  }
  return choices;
}

std::vector<std::string> given_options(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options())
    if (option->count() > 0 && !option->get_lnames().empty()) names.push_back("--" + option->get_lnames().front());
  return names;
}

std::string in_words(const CLI::ParseError& mistake, const CLI::App& app) {
  std::string message = mistake.what();
  if (dynamic_cast<const CLI::ExtrasError*>(&mistake)) return unexpected_in_words(message, app);
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&mistake)) return mismatch_in_words(message);
  return message;
}

}  // namespace windway::cli
