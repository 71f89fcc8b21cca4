// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>

namespace windway {

/// Functions for the pieces of a job.
struct PooledWork {
  std::function<std::string(std::size_t)> result_of;   ///< called on several threads at once
  std::function<void(std::size_t, std::string)> take;  ///< called for one result at a time, as they come
  std::function<bool()> stops = [] { return false; };  ///< once true, no new piece begins
};

/// Does `count` pieces on `threads` threads (at least one, and fewer where the system gives no more). Pieces that have
/// begun are finished and taken. An exception of either function stops the rest and is rethrown.
void work_through(std::size_t count, unsigned threads, const PooledWork& work);

/// Passes on results in the order of their pieces.
class InOrder {
 public:
  explicit InOrder(std::function<void(std::size_t, std::string)> hand_on) : hand_on_(std::move(hand_on)) {}
  void take(std::size_t piece, std::string result);
  /// Passes on the results after a missing one, in order.
  void finish();

 private:
  std::function<void(std::size_t, std::string)> hand_on_;
  std::map<std::size_t, std::string> waiting_;
  std::size_t next_ = 0;
};

}  // namespace windway
