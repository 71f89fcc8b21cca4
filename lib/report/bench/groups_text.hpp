// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "bench/bench_findings.hpp"

namespace windway {

/// Each group against the rest, with all notes that surely differ. Empty where there are no groups.
std::string groups_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns);

}  // namespace windway
