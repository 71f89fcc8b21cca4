// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_tally.hpp"
#include "error.hpp"

namespace windway::cli {

// Exit statuses; part of the contract with scripts.
inline constexpr int exit_measured = 0;
inline constexpr int exit_out_of_tolerance = 1;  ///< measured, and a tolerance that was given is not kept
inline constexpr int exit_usage = 2;
inline constexpr int exit_recording = 3;
inline constexpr int exit_output = 4;
inline constexpr int exit_interrupted = 130;  ///< 128 + SIGINT, as shells say it

int exit_status_of(ErrorKind kind);

/// Whether all is well with a bench: what could not be judged outranks what fails.
int exit_status_of(const BenchTally& tally);

}  // namespace windway::cli
