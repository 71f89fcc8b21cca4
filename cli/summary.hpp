// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "batch.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// `windway summary` as it was called.
struct SummaryCall {
  std::vector<std::string> results;
  BenchOptions bench;
  ResultOptions result;
};

void add_summary(CLI::App& app, SummaryCall& call);
/// Reads the results and writes the report; gives the exit status. Throws Error.
int summarise(const SummaryCall& call);

/// `windway history` as it was called.
struct HistoryCall {
  std::string serial;
  std::vector<std::string> results;
  ResultOptions result;
};

void add_history(CLI::App& app, HistoryCall& call);
/// The same of one instrument. Throws Error (kind recording) where no take is of it.
int tell_history(const HistoryCall& call);

}  // namespace windway::cli
