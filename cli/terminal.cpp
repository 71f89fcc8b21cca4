// SPDX-License-Identifier: GPL-3.0-or-later
#include "terminal.hpp"

#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "error.hpp"

namespace windway::cli {

int write_all(int descriptor, const std::string& text) {
  std::size_t written = 0;
  while (written < text.size()) {
    const ssize_t count = ::write(descriptor, text.data() + written, text.size() - written);
    if (count < 0 && errno != EINTR) return errno;
    if (count > 0) written += static_cast<std::size_t>(count);
  }
  return 0;
}

void print(const std::string& text) {
  const int failure = write_all(STDOUT_FILENO, text);
  if (failure == 0 || failure == EPIPE) return;
  throw Error(ErrorKind::output,
              "cannot write the result to standard output: " + std::generic_category().message(failure));
}

void complain(const std::string& message) { write_all(STDERR_FILENO, "windway: " + message + "\n"); }

}  // namespace windway::cli
