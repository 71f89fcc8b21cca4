// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <stdexcept>
#include <string>

namespace windway {

/// Who has to act on an error; the program maps it to its exit status.
enum class ErrorKind {
  usage,      ///< an option or an instrument file is wrong (exit status 2)
  recording,  ///< a recording cannot be read, holds no note or cannot be judged (exit status 3)
  output,     ///< an output cannot be written (exit status 4)
};

/// The world failed. The message is one lower-case sentence: what, which file, and what to do.
class Error : public std::runtime_error {
 public:
  Error(ErrorKind kind, const std::string& message) : std::runtime_error(message), kind_(kind) {}
  ErrorKind kind() const { return kind_; }

 private:
  ErrorKind kind_;
};

}  // namespace windway
