// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/bench_tally.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// How the statistics look at the bench.
struct BenchOptions {
  std::string group_by;
  std::string keeper;
  std::string stage;
};

/// What the instruments must keep.
struct LimitOptions {
  std::optional<double> tolerance_cents;
  std::optional<double> max_spread_cents;
  std::optional<double> max_octave_cents;
  std::string head_out_range;  ///< "MIN:MAX", mm
};

void add_bench_options(CLI::App& command, BenchOptions& bench);
/// `else_as`: what holds where they are left out.
void add_limit_options(CLI::App& command, LimitOptions& limits, const std::string& else_as);
/// The form of a report over many takes, and where it goes.
void add_bench_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats);

TallyRules tally_rules_of(const BenchOptions& bench);
/// Whether a take that is to be judged says its group; false where groups are not asked for.
bool can_be_grouped(const TallyRules& rules, const Subject& subject);
/// Throws Error (kind usage) where the range of places is none.
JudgeLimits limits_of(const LimitOptions& limits);

}  // namespace windway::cli
