// SPDX-License-Identifier: GPL-3.0-or-later
#include "interrupt.hpp"

#include <signal.h>
#include <unistd.h>

#include <atomic>

#include "input/child_process.hpp"
#include "results/output_file.hpp"

namespace windway::cli {
namespace {

std::atomic<bool> finishes = false;
std::atomic<int> asked_by = 0;
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may not wait");

extern "C" void end_interrupted(int signal_number) {
  if (finishes && asked_by.exchange(signal_number) == 0) return;
  kill_children();
  remove_unfinished_outputs();
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

}  // namespace windway::cli
