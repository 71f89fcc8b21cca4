// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string_view>

namespace windway {

/// The number that the whole text is, such as "440.5", "+3" or "-1e-3"; whatever the locale, its decimals stand after a
/// point. It may be infinite or NaN. Empty where it is none.
std::optional<double> number_in(std::string_view text);

/// The whole number that the text is: one to nine digits and nothing else, which fit an int. Empty where it is none.
std::optional<int> whole_number_in(std::string_view text);

}  // namespace windway
