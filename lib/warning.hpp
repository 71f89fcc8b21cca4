// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

/// A result exists but is doubtful: a stable code for programs, a sentence with its remedy for people.
struct Warning {
  std::string code;     ///< snake_case, listed in the manual, e.g. "spread_not_measured"
  std::string message;  ///< what is doubtful and what to do about it
};

using Warnings = std::vector<Warning>;

}  // namespace windway
