// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench_options.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// Which takes are of which instrument.
struct SubjectOptions {
  std::string manifest;
  std::string serial_from;
  std::string verdict_from = "last";
};

/// `windway batch` as it was called.
struct BatchCall {
  std::vector<std::string> paths;
  std::string bench_file;  ///< that the call was filled from; empty: none
  SubjectOptions subject;
  LimitOptions limits;
  BenchOptions bench;
  std::string results;
  bool resume = false;
  bool goes_on_by_itself = false;    ///< the same call goes on, as the bench file names the results
  bool with_holds = false;           ///< in the lines of the results
  std::optional<std::string> shard;  ///< "3/8"; absent: the whole list
  bool checks_manifest = false;
  int jobs = 0;  ///< 0: as many as the machine has
  TakeOptions take;
  ResultOptions result;
};

/// Declares the options; parsing fills `call`, which must outlive `command`.
void add_batch_options(CLI::App& command, BatchCall& call);

}  // namespace windway::cli
