// SPDX-License-Identifier: GPL-3.0-or-later
#include "terminal.hpp"

#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "error.hpp"
#include "results/output_file.hpp"

namespace windway::cli {

void print(const std::string& text) {
  const int failure = write_all(STDOUT_FILENO, text);
  if (failure == 0 || failure == EPIPE) return;
  throw Error(ErrorKind::output,
              "cannot write the result to standard output: " + std::generic_category().message(failure));
}

void complain(const std::string& message) { write_all(STDERR_FILENO, "windway: " + message + "\n"); }

void complain_of(const Warnings& warnings) {
  for (const Warning& warning : warnings) complain("warning: " + warning.message);
}

}  // namespace windway::cli
