// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string_view>

namespace windway {

/// True if the bytes are well-formed UTF-8 (RFC 3629: no surrogates, no overlong forms) without zero bytes.
bool is_utf8(std::string_view bytes);

}  // namespace windway
