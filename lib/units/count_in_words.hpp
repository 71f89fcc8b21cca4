// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace windway {

/// A figure with its unit or thing: "1 cent", "0.4 cents", "1.0 cents", "-1 cent", "2 holds". The thing is singular
/// after a figure that reads exactly 1, whatever its sign.
std::string count_in_words(std::string_view figure, std::string_view thing);

/// "1 hold", "2 holds".
std::string count_in_words(std::size_t count, std::string_view thing);

}  // namespace windway
