// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "takes/jobs.hpp"

namespace windway {

/// One of several parts of a list of takes.
struct Shard {
  std::size_t number = 1;  ///< from 1 to count
  std::size_t count = 1;
};

/// "3/8": the third of eight. Empty where it says no such thing.
std::optional<Shard> shard_in(const std::string& text);

/// The jobs of one part, in their order. All takes of one serial are in the same part, so that it knows which of them
/// counts. Serials, and takes without one, are dealt out as they first appear, each to the part with the fewest takes
/// so far, the first of equals.
std::vector<BatchJob> jobs_of_shard(const std::vector<BatchJob>& jobs, const Shard& shard);

}  // namespace windway
