// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway {

/// Is `part` anywhere in the text?
bool has(const std::string& text, const std::string& part);

/// The text in one line with single spaces, however it is wrapped.
std::string unwrapped(const std::string& text);

}  // namespace windway
