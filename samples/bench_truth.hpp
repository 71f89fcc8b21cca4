// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "support/bench_takes.hpp"

namespace windway::samples {

/// What is true of a whole bench, as JSON, schema "windway.bench_truth.v1": the common error of every degree in mm and
/// cents, and of each take the flute, its best slide and every note before and after it.
std::string bench_truth_json(const std::vector<synthesis::BenchTake>& takes, const synthesis::BenchPlan& plan);

}  // namespace windway::samples
