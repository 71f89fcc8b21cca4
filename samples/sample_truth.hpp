// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "bench.hpp"
#include "support/truth.hpp"

namespace windway::samples {

/// A take with everything that is known about it.
struct MadeTake {
  SampleTake plan;
  synthesis::SyntheticTake sound;
  std::vector<synthesis::TrueNote> notes;          ///< at the warm end of the take
  std::optional<synthesis::LeastCost> compromise;  ///< absent where the head does not move
  double home_a4_hz = 440.0;
};

/// Draws the flute from the seed and its serial number, plays it, and works out the truth.
MadeTake make_take(const SampleTake& plan, std::uint64_t seed, double rate_hz);

/// The truth as JSON, schema "windway.sample_truth.v1"; with curves, the pitch of every hold each 5 ms.
std::string truth_json(const MadeTake& take, std::uint64_t seed, bool with_curves);

/// One row of the README's table, and its heading.
std::string truth_heading();
std::string truth_row(const MadeTake& take);

}  // namespace windway::samples
