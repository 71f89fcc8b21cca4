// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace windway::cli {

/// The program's commands in the order in which the help lists them.
const std::vector<std::string>& command_names();

/// All commands with their calls: declares them, keeps what parsing fills in, does what was asked.
class Commands {
 public:
  /// `app` must outlive it.
  explicit Commands(CLI::App& app);
  ~Commands();

  /// Does what the command that was called says, and gives the exit status; empty where none was called. Throws Error.
  std::optional<int> run() const;

 private:
  struct Calls;
  const CLI::App& app_;
  std::unique_ptr<Calls> calls_;
};

}  // namespace windway::cli
