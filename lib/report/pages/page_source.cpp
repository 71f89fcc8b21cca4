// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/page_source.hpp"

#include "report/page/section.hpp"

namespace windway {

Markup basis_section(const Facts& facts, const PageSource& source) {
  Markup list;
  for (const auto& [name, value] : facts)
    list += element("dt", {}, words_markup(name)) + element("dd", {}, words_markup(value));
  list +=
      element("dt", {}, words_markup("made by")) + element("dd", {}, words_markup("windway " + source.program_version));
  if (!source.call.empty())
    list +=
        element("dt", {}, words_markup("command")) + element("dd", {}, element("code", {}, words_markup(source.call)));
  return section("basis", "Recording and settings", element("dl", {}, list));
}

}  // namespace windway
