// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// The table of the bench's notes, what its columns mean, and which instruments stand out. There must be notes.
Prose notes_prose(const BenchTally& tally, const BenchFindings& findings);

/// "HW-1003 (+6.1), HW-1010 (-8.0) and 12 more", cents.
std::string named(const NamedDeviations& deviations);

}  // namespace windway
