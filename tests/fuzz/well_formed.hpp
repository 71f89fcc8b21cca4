// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <pugixml.hpp>
#include <string>

#include "fuzz_input.hpp"
#include "units/utf8.hpp"

namespace windway::fuzz {

/// Ends the program with a finding where `page` is no well-formed XML in UTF-8, or has characters that XML 1.0 forbids.
inline void require_well_formed(const std::string& page) {
  pugi::xml_document document;
  constexpr unsigned strictly = pugi::parse_default | pugi::parse_ws_pcdata | pugi::parse_doctype;
  const pugi::xml_parse_result result = document.load_buffer(page.data(), page.size(), strictly, pugi::encoding_utf8);
  require(static_cast<bool>(result), std::string("well-formed: ") + result.description());
  require(is_utf8(page), "UTF-8");
  require(std::ranges::none_of(page, [](char byte) { return byte >= 0 && byte < ' ' && byte != '\n' && byte != '\t'; }),
          "no control characters");
}

}  // namespace windway::fuzz
