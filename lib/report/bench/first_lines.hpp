// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "bench/bench_findings.hpp"

namespace windway {

/// What stands above the instruments of a bench's report: how many passed at their first take, and how warm the bores
/// were. Empty where there is nothing to say.
std::string first_lines(const BenchTally& tally, const BenchFindings& findings, std::size_t columns);

}  // namespace windway
