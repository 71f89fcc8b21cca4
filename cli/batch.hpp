// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/verdict.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// What the instruments must keep.
struct LimitOptions {
  std::optional<double> tolerance_cents;
  std::optional<double> max_spread_cents;
  std::optional<double> max_octave_cents;
  std::string head_out_range;  ///< "MIN:MAX", mm
};

/// Which takes are of which instrument.
struct SubjectOptions {
  std::string manifest;
  std::string serial_from;
  std::string verdict_from = "last";
};

/// How the statistics look at the bench.
struct BenchOptions {
  std::string group_by;
  std::string keeper;
  std::string stage;
};

/// `windway batch` as it was called.
struct BatchCall {
  std::vector<std::string> paths;
  SubjectOptions subject;
  LimitOptions limits;
  BenchOptions bench;
  std::string results;
  bool resume = false;
  int jobs = 0;  ///< 0: as many as the machine has
  BlowOptions blow;
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
  ResultOptions result;
};

void add_batch(CLI::App& app, BatchCall& call);
/// Measures, judges and writes the report; gives the exit status. Throws Error.
int batch_and_report(const BatchCall& call);

}  // namespace windway::cli
