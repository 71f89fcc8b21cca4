// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/worker_pool.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <barrier>
#include <stdexcept>
#include <string>
#include <vector>

namespace windway {
namespace {

/// The results of squaring each number below `count`, in the order they are handed on.
std::vector<std::string> squares(std::size_t count, unsigned threads) {
  std::vector<std::string> all;
  InOrder in_order([&](std::size_t piece, std::string result) {
    EXPECT_EQ(piece, all.size());
    all.push_back(std::move(result));
  });
  work_through(count, threads,
               {[](std::size_t piece) { return std::to_string(piece * piece); },
                [&](std::size_t piece, std::string result) { in_order.take(piece, std::move(result)); }});
  return all;
}

TEST(WorkThrough, GivesTheSameInTheSameOrderOnAnyNumberOfThreads) {
  const auto alone = squares(500, 1);
  ASSERT_EQ(alone.size(), 500U);
  EXPECT_EQ(alone[499], "249001");
  for (const unsigned threads : {0U, 2U, 7U, 600U}) EXPECT_EQ(squares(500, threads), alone) << threads;
}

TEST(WorkThrough, DoesNothingForNoPieces) { EXPECT_TRUE(squares(0, 4).empty()); }

TEST(WorkThrough, WorksOnSeveralPiecesAtOnce) {
  std::barrier meeting(3);  // passed only where three pieces are begun before one is done
  int taken = 0;
  work_through(3, 3,
               {[&](std::size_t) { return meeting.arrive_and_wait(), std::string(); },
                [&](std::size_t, const std::string&) { ++taken; }});
  EXPECT_EQ(taken, 3);
}

TEST(WorkThrough, TakesOneResultAtATime) {
  std::atomic<int> inside = 0;
  int most = 0;
  work_through(2000, 8,
               {[](std::size_t) { return std::string(); },
                [&](std::size_t, const std::string&) {
                  most = std::max(most, ++inside);
                  --inside;
                }});
  EXPECT_EQ(most, 1);
}

TEST(WorkThrough, BringsOutAnExceptionOfTheWorkAndBeginsNothingMore) {
  for (const unsigned threads : {1U, 4U}) {
    std::atomic<std::size_t> begun = 0;
    const auto fails_at_10 = [&](std::size_t piece) {
      ++begun;
      if (piece == 10) throw std::runtime_error("no more");
      return std::string();
    };
    EXPECT_THROW(work_through(100000, threads, {fails_at_10, [](std::size_t, const std::string&) {}}),
                 std::runtime_error);
    EXPECT_LT(begun, 100000U);
  }
}

TEST(WorkThrough, BringsOutAnExceptionOfTheTaking) {
  std::size_t taken = 0;
  const auto full = [&](std::size_t, const std::string&) {
    if (++taken == 5) throw std::runtime_error("disk full");
  };
  EXPECT_THROW(work_through(1000, 3, {[](std::size_t) { return std::string(); }, full}), std::runtime_error);
  EXPECT_EQ(taken, 5U);
}

TEST(WorkThrough, FinishesAndTakesWhatWasBegunWhenItIsStopped) {
  for (const unsigned threads : {1U, 4U}) {
    std::atomic<std::size_t> begun = 0;
    std::size_t taken = 0;
    work_through(100000, threads,
                 {[&](std::size_t) { return ++begun, std::string(); },
                  [&](std::size_t, const std::string&) { ++taken; }, [&] { return begun >= 20; }});
    EXPECT_EQ(taken, begun);
    EXPECT_GE(begun, 20U);
    EXPECT_LE(begun, 20U + threads);
  }
}

TEST(InOrder, HoldsBackWhatComesTooEarly) {
  std::string handed;
  InOrder in_order([&](std::size_t, const std::string& result) { handed += result; });
  in_order.take(2, "c");
  in_order.take(1, "b");
  EXPECT_EQ(handed, "");
  in_order.take(0, "a");
  EXPECT_EQ(handed, "abc");
}

TEST(InOrder, HandsOnAtTheEndWhatWaitsForOneThatNeverCame) {
  std::vector<std::size_t> handed;
  InOrder in_order([&](std::size_t piece, const std::string&) { handed.push_back(piece); });
  for (const std::size_t piece : {7U, 3U, 5U, 0U}) in_order.take(piece, "");
  in_order.finish();
  EXPECT_EQ(handed, (std::vector<std::size_t>{0, 3, 5, 7}));
}

}  // namespace
}  // namespace windway
