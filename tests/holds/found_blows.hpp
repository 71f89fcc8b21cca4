// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "holds/holds.hpp"
#include "support/take.hpp"

namespace windway::test {

/// A blow of a synthetic take with the hold that was found for it.
struct FoundBlow {
  synthesis::TrueHold truth;
  Hold hold;
  double target_hz = 0.0;

  double sounds_from_s() const { return truth.start_s + truth.attack_s; }
  double sounds_to_s() const { return truth.end_s - truth.release_s; }
  /// Found minus true mean pitch over the hold's own steady part.
  double error_cents() const;
};

struct FoundTake {
  std::vector<FoundBlow> found;  ///< in order
  std::size_t blows = 0;
  std::size_t holds = 0;  ///< found in all
};

/// A blow's hold is the one that overlaps at least half of it.
FoundTake found_take(const synthesis::SyntheticTake& take, double a4_hz = 440.0);

/// A fresh flute on `lowest_midi` that plays `notes`, each at `blows`.
synthesis::SyntheticTake played_take(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                     const synthesis::Performance& performance, std::uint64_t seed);

}  // namespace windway::test
