// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/pages/page_source.hpp"

namespace windway::cli {

/// Keeps the words of this call, for the pages and results that say what made them.
void remember_call(const std::vector<std::string>& words);

/// The words of this call after the program's name, but those that say in which form and where to write the result.
std::vector<std::string> measuring_words();

/// This version and this call, as a shell would have to be given it.
PageSource page_source();

}  // namespace windway::cli
