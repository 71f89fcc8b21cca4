// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string_view>
#include <vector>

namespace windway {

/// How every line of results begins.
inline constexpr std::string_view begins_a_result = R"({"schema":"windway.)";

/// The results that stand in a line; the line itself where there is one, or none. A file that was cut off in a line and
/// then joined with another has a line with a part of one result and the whole of the next.
std::vector<std::string_view> joined_results(std::string_view line);

}  // namespace windway
