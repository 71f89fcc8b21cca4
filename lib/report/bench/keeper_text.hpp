// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// What the bench's own flute tells of the measuring. Empty where there is none.
Prose keeper_prose(const BenchTally& tally, const BenchFindings& findings);

}  // namespace windway
