// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "report/page/section.hpp"
#include "report/pages/page_source.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// What a report says, as a page: its first sentence is the heading, what stands before its first table comes with it,
/// then the figures, then the tables and the rest under `tables_title`. `above` stands over the heading.
struct ProsePage {
  std::string above;
  Markup figures{};
  std::string tables_title = "All figures";
};
std::string page_of(const Prose& prose, const ProsePage& form, const Facts& facts, const PageSource& source);

}  // namespace windway
