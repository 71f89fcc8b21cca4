// SPDX-License-Identifier: GPL-3.0-or-later
#include "standard_streams.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <initializer_list>

namespace windway::cli {

namespace {

int messages = STDERR_FILENO;

}  // namespace

void occupy_closed_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (fcntl(stream, F_GETFD) < 0) open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

void keep_messages_apart() {
#ifdef NDEBUG
  const int kept = fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  if (kept >= 0 && nowhere >= 0 && dup2(nowhere, STDERR_FILENO) >= 0) messages = kept;
  if (nowhere >= 0) close(nowhere);
#endif
}

int message_stream() { return messages; }

}  // namespace windway::cli
