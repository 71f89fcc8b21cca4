// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
class ParseError;
}  // namespace CLI

namespace windway::cli {

/// Refuses a call that contradicts itself. Throws Error (kind usage).
[[noreturn]] void refuse(const std::string& message);

/// What a number given to an option may be, in words.
struct NumberRange {
  double least = 0;
  double most = 0;
  std::string placeholder;  ///< in the help: "HZ"
  std::string unit;         ///< in a refusal: "Hz"
  std::string remark;       ///< what is usual, to help who mistook it
};

/// Refuses in words what is no number of the range: text, nan, inf, a decimal comma.
void accept_numbers(CLI::Option* option, const NumberRange& range);

/// Refuses in words what is none of the choices.
void accept_choices(CLI::Option* option, const std::vector<std::string>& choices);

/// What accept_choices allows the option; none where any value will do.
std::vector<std::string> choices_of(CLI::Option& option);

/// The names of the options that the call gave to a command: "--a4". Its recordings are none.
std::vector<std::string> given_options(const CLI::App& command);

/// A mistake on the command line in one line, with what to do.
std::string in_words(const CLI::ParseError& mistake, const CLI::App& app);

}  // namespace windway::cli
