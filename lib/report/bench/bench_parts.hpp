// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

// The parts of a bench's statistics; each may be empty but the first. There must be notes for all but the last.

/// Which of the counted instruments the statistics are of.
Prose basis_prose(const BenchTally& tally);

/// Where the makers mean notes off the temperament; nothing where all are on it, or where they differ.
Prose targets_prose(const BenchTally& tally);

/// What is known of the bench in one figure each: where the heads come to rest, home A4, octaves, repeatability.
Prose figures_prose(const BenchTally& tally, const BenchFindings& findings);

/// The gauge study, or why there is none.
Prose gauge_prose(const BenchTally& tally, const BenchFindings& findings);

/// What was put together, or left out, that a reader must know.
Prose doubts_prose(const BenchTally& tally);

}  // namespace windway
