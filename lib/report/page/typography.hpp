// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

namespace windway {

/// Figures and notes of a report as print has them: a true minus before a figure, the sharp and the flat sign after a
/// note's letter ("-2.4" of "Bb5" becomes "−2.4" of "B♭5"). A figure stays with its unit and its ±. Hyphens, commands
/// and everything else stay.
std::string typeset(std::string_view written);

}  // namespace windway
