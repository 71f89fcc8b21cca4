// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// Rate of the vibrato in a pitch curve (cents, a value each hop): the sine from 3 to 9 Hz that explains most of the
/// curve about its trend; empty where that is less than 60 %, or less than 3 cents deep either way.
std::optional<double> vibrato_hz(const std::vector<double>& cents, double hop_s);

}  // namespace windway
