// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/worker_pool.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

namespace windway {
namespace {

/// The pieces still to be done, and the first exception.
class Queue {
 public:
  Queue(std::size_t count, const PooledWork& work) : count_(count), work_(work) {}

  void work_off() {
    for (std::size_t piece = next_++; piece < count_ && !failed_ && !work_.stops(); piece = next_++) {
      try {
        take(piece, work_.result_of(piece));
      } catch (...) {
        fail();
      }
    }
  }

  void rethrow() const {
    if (failure_) std::rethrow_exception(failure_);
  }

 private:
  /// A failure is noted before the next result may be taken.
  void take(std::size_t piece, std::string result) {
    const std::lock_guard guard(taking_);
    if (failed_) return;
    try {
      work_.take(piece, std::move(result));
    } catch (...) {
      fail();
    }
  }

  /// Keeps the exception in flight, if it is the first.
  void fail() {
    const std::lock_guard guard(failing_);
    if (!failed_.exchange(true)) failure_ = std::current_exception();
  }

  std::size_t count_;
  const PooledWork& work_;
  std::atomic<std::size_t> next_ = 0;
  std::atomic<bool> failed_ = false;
  std::mutex taking_;
  std::mutex failing_;
  std::exception_ptr failure_;
};

}  // namespace

void work_through(std::size_t count, unsigned threads, const PooledWork& work) {
  Queue queue(count, work);
  {
    std::vector<std::jthread> others;
    const std::size_t wanted = std::min<std::size_t>(std::max(1U, threads), count);
    try {
      for (std::size_t other = 1; other < wanted; ++other) others.emplace_back([&queue] { queue.work_off(); });
    } catch (const std::exception&) {  // there are no more threads to have: fewer do it too
    }
    queue.work_off();
  }
  queue.rethrow();
}

void InOrder::take(std::size_t piece, std::string result) {
  waiting_.emplace(piece, std::move(result));
  for (auto next = waiting_.find(next_); next != waiting_.end(); next = waiting_.find(next_)) {
    std::string ready = std::move(next->second);
    waiting_.erase(next);
    hand_on_(next_++, std::move(ready));
  }
}

void InOrder::finish() {
  for (auto& [piece, result] : waiting_) hand_on_(piece, std::move(result));
  waiting_.clear();
}

}  // namespace windway
