// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "bench/bench_entry.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// The instruments that go back to the bench, with why; those that fail first. So many are shown at most, the others
/// are counted: of those that fail the first that came, and of the rest only where there is room left.
class GoesBackTable {
 public:
  static constexpr std::size_t most_shown = 500;
  static constexpr std::size_t most_bytes = 600'000;  // of very long names and reasons

  void add(const BenchEntry& entry);
  /// True where an instrument shown has work advised at a hole.
  bool advises_work() const;
  /// A section of a page; empty where none goes back.
  Markup section() const;

 private:
  struct Row {
    Markup markup;
    bool advises_work = false;
  };

  /// Of the rows shown, the last one's rank; 0 of none.
  std::size_t last_rank() const;
  void leave_out_last();

  std::array<std::vector<Row>, 4> rows_;  ///< by rank: fails, too close, not measured, others
  std::size_t shown_ = 0;
  std::size_t bytes_ = 0;
  std::size_t left_out_ = 0;
};

}  // namespace windway
