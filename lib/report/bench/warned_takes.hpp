// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "bench/bench_tally.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// What takes were warned of, a sentence a code: "clipped: the recording is overloaded. 2 takes: HW-1003 and HW-1010."
/// Empty where there is none.
Prose warned_takes_prose(const std::map<WarningCode, WarnedTakes>& warned);

}  // namespace windway
