// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "bench/bench_findings.hpp"

namespace windway {

/// What the bench's own flute tells of the measuring. Empty where there is none.
std::string keeper_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns);

}  // namespace windway
