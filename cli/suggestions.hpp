// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace windway::cli {

/// What was probably meant by an option that is not known: one of `known`, or one with its value ("--format json").
/// First by meaning, then by spelling. Empty where none is near: a wrong guess is worse than none.
std::optional<std::string> option_meant(const std::string& option, const std::vector<std::string>& known);

/// The same of a command.
std::optional<std::string> command_meant(const std::string& word, const std::vector<std::string>& known);

}  // namespace windway::cli
