// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace windway {

/// Kills every ChildProcess that is at work. A signal handler may call it.
void kill_children() noexcept;

/// So much of standard error is kept: a file's own lyrics and chapters stand before what matters.
inline constexpr std::size_t most_said_bytes = std::size_t{16} << 20U;

/// Another program at work. It has an open file as its standard input, its standard output is read here, and the
/// beginning of what it says on standard error is kept. No shell comes between, and it inherits nothing else. It runs
/// in a process group of its own: Ctrl-C reaches only this program, which decides. The destructor kills it if it still
/// runs. If this program is killed, the other ends when it next writes to the closed pipe.
class ChildProcess {
 public:
  /// Starts words[0], looked for on PATH, with the other words as its arguments. Null where there is no such program.
  /// Throws std::system_error where it cannot be started.
  static std::unique_ptr<ChildProcess> start(const std::vector<std::string>& words, int input_descriptor);
  ~ChildProcess();
  ChildProcess(const ChildProcess&) = delete;
  ChildProcess& operator=(const ChildProcess&) = delete;

  /// Waits for output; gives how many bytes came, 0 once the program has ended. Standard error
  /// is read too, so a program that writes much there is not held up.
  std::size_t read(std::span<unsigned char> bytes);
  /// Standard error so far, its first most_said_bytes.
  const std::string& said() const { return said_; }
  /// Once it has ended: 0, its exit status, or 128 and the number of the signal that ended it.
  std::optional<int> exit_status() const { return exit_status_; }

 private:
  ChildProcess(int pid, int output, int complaints);
  void listen();
  void reap();

  int pid_;
  int output_;
  int complaints_;
  std::optional<std::size_t> place_;  ///< among those at work
  std::string said_;
  std::optional<int> exit_status_;
};

}  // namespace windway
