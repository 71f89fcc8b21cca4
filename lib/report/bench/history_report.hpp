// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "bench/history.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// One instrument's takes in order and what each stage of the work changed. Each take's file is in the table where that
/// fits `columns`, else below it.
Prose history_prose(const History& history, std::size_t columns = text_columns);

/// From which stage to which: "raw to final".
std::string step_name(const HistoryStep& step, const History& history);

/// The same for programs: one JSON object, schema windway.history.v1.
std::string history_json(const History& history, const std::string& program_version);

/// The takes as a batch's table (bench_csv.hpp).
std::string history_csv(const History& history);

}  // namespace windway
