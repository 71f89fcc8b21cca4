// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/history.hpp"
#include "report/pages/page_source.hpp"

namespace windway {

/// One instrument's takes in order and what each stage of the work changed, as a page.
std::string history_page(const History& history, const PageSource& source);

}  // namespace windway
