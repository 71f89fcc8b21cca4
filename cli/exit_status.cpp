// SPDX-License-Identifier: GPL-3.0-or-later
#include "exit_status.hpp"

namespace windway::cli {

int exit_status_of(ErrorKind kind) {
  switch (kind) {
    case ErrorKind::usage:
      return exit_usage;
    case ErrorKind::recording:
      return exit_recording;
    case ErrorKind::output:
      break;
  }
  return exit_output;
}

int exit_status_of(const BenchTally& tally) {
  const VerdictCounts& counts = tally.verdicts;
  const std::uint64_t unjudged =
      counts.of(VerdictResult::not_measured) + counts.of(VerdictResult::too_close) + tally.keeper_not_measured;
  if (unjudged > 0 || counts.all() == 0) return exit_recording;
  return counts.of(VerdictResult::fail) > 0 ? exit_out_of_tolerance : exit_measured;
}

}  // namespace windway::cli
