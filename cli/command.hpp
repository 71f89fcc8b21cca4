// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>

namespace CLI {
class App;
}

namespace windway::cli {

/// Does what a command was called for and gives the exit status. Throws Error.
using Action = std::function<int()>;

/// A command of the program.
struct Command {
  const char* name;
  const char* purpose;  ///< in the help
  /// Declares the command's options; parsing fills what the action then reads.
  Action (*declare)(CLI::App& command);
};

}  // namespace windway::cli
