// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/pages/page_source.hpp"

namespace windway::cli {

/// Keeps the words of this call, for the pages that say what made them.
void remember_call(const std::vector<std::string>& words);

/// This version and this call, as a shell would have to be given it.
PageSource page_source();

}  // namespace windway::cli
