// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace windway {

/// A TOML text with an x for each byte in quotes or in a comment: its keys, numbers and brackets alone. It has the same
/// length, and the same lines but those of texts of several lines. Any text has one, and what is in quotes there is in
/// quotes for a parser too, as far as the parser comes.
std::string toml_outline(std::string_view toml);

}  // namespace windway
