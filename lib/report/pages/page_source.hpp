// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/page/markup.hpp"

namespace windway {

/// What made a page, for its last section.
struct PageSource {
  std::string program_version;
  std::string call;  ///< as it can be typed again; empty: not said
};

/// Facts with their names.
using Facts = std::vector<std::pair<std::string, std::string>>;

/// The last section of every page: the facts that it rests on, what made it, and the call that makes it again.
Markup basis_section(const Facts& facts, const PageSource& source);

}  // namespace windway
