// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "bench/bench_entry.hpp"

namespace windway {

/// Reads lines that windway batch has written, one after the other; a line's holds are not looked at. Not for two
/// threads at once.
class EntryReader {
 public:
  EntryReader();
  ~EntryReader();

  /// Empty where the line is no whole result of windway batch.
  std::optional<BenchEntry> read(std::string_view line);
  /// The same for what settles how the take counts alone: less of the line is looked at.
  std::optional<TakeOrder> order(std::string_view line);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace windway
