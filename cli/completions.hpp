// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "completed_command.hpp"

namespace windway::cli {

/// What bash reads to complete a call (with the functions of bash-completion). `commands` as completed_commands gives
/// them.
std::string bash_completion(const std::vector<CompletedCommand>& commands);

/// What zsh reads to complete a call: the file `_windway` of a folder in its fpath.
std::string zsh_completion(const std::vector<CompletedCommand>& commands);

/// What fish reads to complete a call.
std::string fish_completion(const std::vector<CompletedCommand>& commands);

}  // namespace windway::cli
