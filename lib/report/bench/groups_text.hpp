// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// Each group against the rest, with all notes that surely differ. Empty where there are no groups.
Prose groups_prose(const BenchTally& tally, const BenchFindings& findings);

}  // namespace windway
