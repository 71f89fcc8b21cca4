// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "bench/bench_entry.hpp"

namespace windway {

/// How far the bench's own flute stood from its mean, by date, + sharp.
using KeeperOffsets = std::map<std::string, CentsEstimate>;

/// Gathers the keeper's home A4s.
class KeeperDays {
 public:
  /// A take without a date or a home A4 tells nothing.
  void add(const BenchEntry& keeper);
  /// The days' mean is 0; of fewer than two days there are none. The u95 comes from how takes of one day differ; where
  /// no day has two, from how surely each was measured.
  KeeperOffsets offsets() const;

 private:
  struct Take {
    std::string date;
    double home_a4_hz = 0;
    double u95_cents = 0;
  };
  std::vector<Take> takes_;
};

/// The result with the keeper's offset of its day taken out: of the head's place as far as the head could answer it, of
/// the notes for the rest, and of the home A4. A head that thereby comes to rest at an end of its travel is at a limit,
/// and what it reaches is judged by the notes' tolerance. What was judged of these is judged again by its own limits.
/// Empty where the keeper was not recorded on that day.
std::optional<BenchEntry> by_keeper(BenchEntry entry, const KeeperOffsets& offsets);

}  // namespace windway
