// SPDX-License-Identifier: GPL-3.0-or-later
#include "terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <system_error>

#include "error.hpp"
#include "report/wording/layout.hpp"
#include "results/output_file.hpp"
#include "standard_streams.hpp"

namespace windway::cli {
namespace {

std::size_t columns_of(int descriptor) {
  constexpr std::size_t least = 40;  // no table fits less
  winsize size{};
  if (isatty(descriptor) != 1 || ioctl(descriptor, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return text_columns;
  return std::max<std::size_t>(least, size.ws_col);
}

}  // namespace

std::size_t columns_of_output() { return columns_of(STDOUT_FILENO); }

void print(const std::string& text) {
  const int failure = write_all(STDOUT_FILENO, text);
  if (failure == 0 || failure == EPIPE) return;
  throw Error(ErrorKind::output,
              "cannot write the result to standard output: " + std::generic_category().message(failure));
}

void complain(const std::string& message) {
  write_all(message_stream(), wrapped("windway: " + message, 2, columns_of(message_stream())));
}

void complain_of(const Warnings& warnings) {
  for (const Warning& warning : warnings) complain("warning: " + warning.message);
}

}  // namespace windway::cli
