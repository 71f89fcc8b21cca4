// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "bench/bench_entry.hpp"

namespace windway {

/// Files of results that windway batch has written, one after the other; "-" is standard input. How each take counts is
/// settled among all of them. What can be read only once, a pipe, is copied to an unnamed file.
class SavedLines {
 public:
  /// Throws Error (kind recording) where a file cannot be read.
  explicit SavedLines(const std::vector<std::string>& paths);
  ~SavedLines();

  /// Calls `see` with each result, as it counts among all, and its line. The first few lines that are no results are
  /// told to `warn`, in words; gives how many there were. May be called again. Throws Error (kind recording) where a
  /// file cannot be read, or was written meanwhile.
  std::size_t read(const std::function<void(const BenchEntry&, std::string_view)>& see,
                   const std::function<void(const std::string&)>& warn) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace windway
