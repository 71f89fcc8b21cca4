// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/child_process.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <thread>

#include "recording/open_descriptors.hpp"

namespace windway {
namespace {

/// A shell at work, an empty file as its input.
std::unique_ptr<ChildProcess> shell(const std::string& commands, int input = -1) {
  const int nothing = open("/dev/null", O_RDONLY | O_CLOEXEC);
  auto child = ChildProcess::start({"sh", "-c", commands}, input < 0 ? nothing : input);
  close(nothing);
  return child;
}

std::string all_of(ChildProcess& child) {
  std::array<unsigned char, 4096> block{};
  std::string text;
  while (const std::size_t count = child.read(block)) text.append(block.begin(), block.begin() + count);
  return text;
}

TEST(ChildProcess, NeverBlocksOnWhatItSaysBesideItsOutput) {
  // Each more than a pipe holds.
  const auto child = shell("head -c 300000 /dev/zero >&2; head -c 300000 /dev/zero; head -c 300000 /dev/zero >&2");
  EXPECT_EQ(all_of(*child).size(), 300000U);
  EXPECT_EQ(child->said().size(), 600000U);
  EXPECT_EQ(child->exit_status(), 0);
  const auto wordy = shell("head -c 20000000 /dev/zero >&2; echo done");
  EXPECT_EQ(all_of(*wordy), "done\n");
  EXPECT_EQ(wordy->said().size(), most_said_bytes);
}

TEST(ChildProcess, HasTheOpenFileAsItsInput) {
  char name[] = "/tmp/windway-test-XXXXXX";
  const int file = mkstemp(name);
  ASSERT_EQ(write(file, "D E F#", 6), 6);
  ASSERT_EQ(unlink(name), 0);
  EXPECT_EQ(all_of(*shell("cat /dev/stdin", file)), "D E F#");  // from its beginning, though it has no name
  close(file);
}

TEST(ChildProcess, IsNoneWhereThereIsNoSuchProgram) {
  EXPECT_EQ(ChildProcess::start({"windway-no-such-program"}, STDIN_FILENO), nullptr);
  EXPECT_EQ(ChildProcess::start({"/etc/passwd"}, STDIN_FILENO), nullptr);  // not to be executed
}

TEST(ChildProcess, SaysHowItEnded) {
  const auto failed = shell("exit 3"), killed = shell("kill -TERM $$");
  EXPECT_EQ(failed->exit_status(), std::nullopt);
  EXPECT_EQ(all_of(*failed) + all_of(*killed), "");
  EXPECT_EQ(failed->exit_status(), 3);
  EXPECT_EQ(killed->exit_status(), 128 + SIGTERM);
}

TEST(ChildProcess, IsKilledAndReapedWithItsObject) {
  auto child = shell("echo $$; exec sleep 1000");
  std::array<unsigned char, 32> block{};
  const std::size_t count = child->read(block);
  const pid_t pid = std::stoi(std::string(block.begin(), block.begin() + count));
  EXPECT_EQ(kill(pid, 0), 0);
  child.reset();
  EXPECT_EQ(kill(pid, 0), -1);  // a zombie would still be there
  EXPECT_EQ(errno, ESRCH);
}

TEST(ChildProcess, IsKilledWithAllThatAreAtWork) {
  const auto one = shell("exec sleep 1000"), other = shell("exec sleep 1000");
  kill_children();
  EXPECT_EQ(all_of(*one) + all_of(*other), "");
  EXPECT_EQ(one->exit_status(), 128 + SIGKILL);
  EXPECT_EQ(other->exit_status(), 128 + SIGKILL);
}

TEST(ChildProcess, IsOutOfReachOfTheTerminalsInterrupt) {
  const auto child = shell("ps -o pgid= -p $$");
  EXPECT_NE(std::stoi(all_of(*child)), getpgrp());
}

TEST(ChildProcess, InheritsThreeStreamsAndNothingElse) {
  const int open_to_all = dup2(STDERR_FILENO, 77);
  EXPECT_EQ(all_of(*shell("for at in 0 1 2 77; do test -e /proc/$$/fd/$at && echo $at; done")), "0\n1\n2\n");
  close(open_to_all);
}

TEST(ChildProcess, IsNotDeafToClosedPipesThoughThisProgramIs) {
  const auto before = signal(SIGPIPE, SIG_IGN);
  const auto child = shell("grep SigIgn /proc/$$/status");
  const std::string ignored = all_of(*child);
  signal(SIGPIPE, before);
  const auto mask = std::stoull(ignored.substr(ignored.find_first_of("0123456789abcdef", 7)), nullptr, 16);
  EXPECT_EQ(mask & (1ULL << (SIGPIPE - 1)), 0U);
}

TEST(ChildProcess, LeavesNothingBehindOnManyThreads) {
  const std::size_t before = test::open_descriptors();
  std::array<int, 8> failures{};
  {
    std::vector<std::jthread> threads;
    for (std::size_t thread = 0; thread < failures.size(); ++thread) {
      threads.emplace_back([&failures, thread] {
        for (int round = 0; round < 20; ++round) {
          const std::string text = std::to_string(thread * 100 + static_cast<std::size_t>(round));
          const auto child = shell("echo " + text + "; echo no >&2; exec sleep " + (round % 2 == 0 ? "0" : "1000"));
          std::array<unsigned char, 32> block{};
          const std::size_t count = child->read(block);
          failures[thread] += std::string(block.begin(), block.begin() + count) != text + "\n";
        }
      });
    }
  }
  for (const int failed : failures) EXPECT_EQ(failed, 0);
  EXPECT_EQ(test::open_descriptors(), before);
  EXPECT_EQ(waitpid(-1, nullptr, WNOHANG), -1);  // no child is left, dead or alive
  EXPECT_EQ(errno, ECHILD);
}

}  // namespace
}  // namespace windway
