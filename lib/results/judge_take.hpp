// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "bench/bench_tally.hpp"
#include "bench/judged_take.hpp"
#include "takes/jobs.hpp"

namespace windway {

/// What all takes of a batch are measured and judged by.
struct Batch {
  MeasureSettings settings;
  JudgeLimits limits;
  TallyRules rules;  ///< tell the keeper, which is not judged
  VerdictFrom verdict_from = VerdictFrom::last;
  bool with_holds = false;  ///< in the lines
  std::vector<BatchJob> jobs;
};

/// What the take is measured and judged by, in short: another key, another result.
std::string key_of(const BatchJob& job, const Batch& batch);

/// Measures and judges one take; whatever goes wrong is told in the result. Throws std::bad_alloc only.
JudgedTake judged_take(const BatchJob& job, const Batch& batch);

/// The same as a line of results. A take that the memory does not hold is not measured; its line bears no digest, so
/// that it is measured again where the batch goes on.
std::string judged_line(const BatchJob& job, const Batch& batch);

}  // namespace windway
