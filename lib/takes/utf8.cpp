// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/utf8.hpp"

#include <boost/nowide/utf/utf.hpp>

namespace windway {

bool is_utf8(std::string_view bytes) {
  namespace utf = boost::nowide::utf;
  const char* const end = bytes.data() + bytes.size();
  for (const char* at = bytes.data(); at != end;) {
    const utf::code_point point = utf::utf_traits<char>::decode(at, end);
    if (point == 0 || point == utf::illegal || point == utf::incomplete) return false;
  }
  return true;
}

}  // namespace windway
