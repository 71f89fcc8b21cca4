// SPDX-License-Identifier: GPL-3.0-or-later
#include "interrupt.hpp"

#include <signal.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <climits>

namespace windway::cli {
namespace {

// A signal handler may touch neither the heap nor a std::string.
std::array<char, PATH_MAX> unfinished{};
volatile sig_atomic_t has_unfinished = 0;
std::atomic<bool> finishes = false;
std::atomic<int> asked_by = 0;
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may not wait");

extern "C" void end_interrupted(int signal_number) {
  if (finishes && asked_by.exchange(signal_number) == 0) return;
  if (has_unfinished != 0) unlink(unfinished.data());
  _exit(128 + signal_number);
}

/// A program started with the signal ignored (nohup, a shell's background job) goes on ignoring it.
void watch(int signal_number) {
  struct sigaction action {};
  sigaction(signal_number, nullptr, &action);
  if (action.sa_handler == SIG_IGN) return;
  action = {};
  action.sa_handler = end_interrupted;
  action.sa_flags = SA_RESTART;  // a take that is being read is read to its end
  sigaction(signal_number, &action, nullptr);
}

}  // namespace

void watch_for_interrupts() {
  for (const int signal_number : {SIGINT, SIGTERM, SIGHUP}) watch(signal_number);
  for (const int signal_number : {SIGPIPE, SIGXFSZ}) signal(signal_number, SIG_IGN);
}

void finish_when_interrupted() { finishes = true; }

int stop_signal() { return asked_by; }

void remove_when_interrupted(const std::string& path) {
  has_unfinished = 0;
  if (path.empty() || path.size() >= unfinished.size()) return;
  path.copy(unfinished.data(), path.size());
  unfinished[path.size()] = '\0';
  has_unfinished = 1;
}

}  // namespace windway::cli
