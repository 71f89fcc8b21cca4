// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <cstddef>

namespace windway::cli {

/// How far a long run has come, on one line of the terminal: count, rate, time left. Silent where standard error is no
/// terminal.
class Progress {
 public:
  explicit Progress(std::size_t all);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void step();

 private:
  using Clock = std::chrono::steady_clock;
  std::size_t all_;
  std::size_t done_ = 0;
  bool is_shown_;
  Clock::time_point began_ = Clock::now();
  Clock::time_point shown_ = began_;
};

}  // namespace windway::cli
