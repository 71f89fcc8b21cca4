// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/utf8.hpp"

#include <simdjson.h>

namespace windway {

bool is_utf8(std::string_view bytes) {
  return simdjson::validate_utf8(bytes) && bytes.find('\0') == std::string_view::npos;
}

}  // namespace windway
