// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// What stands above the instruments of a bench's report: how many passed at their first take, and how warm the bores
/// were. Empty where there is nothing to say.
Prose first_lines(const BenchTally& tally, const BenchFindings& findings);

}  // namespace windway
