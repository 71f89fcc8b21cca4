// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>

#include "bench/bench_entry.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// The instruments that go back to the bench, with why; those that fail first. So many are shown at most, the others
/// are counted.
class GoesBackTable {
 public:
  static constexpr std::size_t most_shown = 500;
  static constexpr std::size_t most_bytes = 600'000;  // of very long names and reasons

  void add(const BenchEntry& entry);
  /// True where an instrument shown has work advised at a hole.
  bool advises_work() const { return advises_work_; }
  /// A section of a page; empty where none goes back.
  Markup section() const;

 private:
  std::size_t bytes() const;

  std::array<Markup, 4> rows_;  ///< by VerdictResult
  std::size_t shown_ = 0;
  std::size_t left_out_ = 0;
  bool advises_work_ = false;
};

}  // namespace windway
