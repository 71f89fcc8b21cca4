// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "batch.hpp"
#include "bench/bench_tally.hpp"

namespace windway::cli {

/// How the statistics look at the bench.
void add_bench_options(CLI::App& command, BenchOptions& bench);
/// The form of a report over many takes, and where it goes.
void add_bench_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats);

TallyRules tally_rules_of(const BenchOptions& bench);
JudgeLimits limits_of(const LimitOptions& limits);

/// Whether all is well, by the contract with scripts: what could not be judged outranks what fails.
int exit_status_of(const BenchTally& tally);

}  // namespace windway::cli
