// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace windway::cli {

/// What `windway` alone prints: how to begin, in ten lines.
std::string how_to_begin();

/// Where the first word is no command: "... did you mean: windway measure FILE".
std::optional<std::string> did_you_mean(const std::vector<std::string>& words);

/// The word as a shell would have to be given it.
std::string shell_word(const std::string& word);

}  // namespace windway::cli
