// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "bench/bench_tally.hpp"

namespace windway {

/// What takes were warned of, a sentence a code: "clipped: the recording is overloaded. 2 takes: HW-1003 and HW-1010."
/// Empty where there is none.
std::string warned_takes_text(const std::map<WarningCode, WarnedTakes>& warned, std::size_t columns);

}  // namespace windway
