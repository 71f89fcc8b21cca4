// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>

namespace windway {

/// What is done with each of `count` pieces of work.
struct PooledWork {
  std::function<std::string(std::size_t)> result_of;   ///< on several threads at once
  std::function<void(std::size_t, std::string)> take;  ///< one at a time, as the results come
  std::function<bool()> stops = [] { return false; };  ///< no new piece is begun once it says true
};

/// Does all pieces on `threads` threads (at least one); what was begun is finished and taken. An exception of either
/// function ends the rest and comes out here.
void work_through(std::size_t count, unsigned threads, const PooledWork& work);

/// Hands on results in the order of their pieces, however they come in.
class InOrder {
 public:
  explicit InOrder(std::function<void(std::size_t, std::string)> hand_on) : hand_on_(std::move(hand_on)) {}
  void take(std::size_t piece, std::string result);
  /// Those that wait for one that never came, in order.
  void finish();

 private:
  std::function<void(std::size_t, std::string)> hand_on_;
  std::map<std::size_t, std::string> waiting_;
  std::size_t next_ = 0;
};

}  // namespace windway
