// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/read_lines.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <vector>

namespace windway {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 18U;  // stays in the second-level cache

std::size_t read_block(int descriptor, std::vector<char>& block) {
  ssize_t got = 0;
  do {
    got = ::read(descriptor, block.data(), block.size());
  } while (got < 0 && errno == EINTR);
  if (got < 0) throw std::system_error(errno, std::generic_category(), "read");
  return static_cast<std::size_t>(got);
}

/// Adds as much as a line may have.
std::string& extend(std::string& pending, std::string_view more) {
  constexpr std::size_t longest_line_bytes = std::size_t{64} << 20U;
  return pending.append(more.substr(0, longest_line_bytes - std::min(longest_line_bytes, pending.size())));
}

}  // namespace

std::string read_lines(int descriptor, const std::function<void(std::string_view)>& see) {
  std::vector<char> block(block_bytes);
  std::string pending;  // a line that began in an earlier block
  while (const std::size_t got = read_block(descriptor, block)) {
    std::string_view rest(block.data(), got);
    for (std::size_t feed = rest.find('\n'); feed != std::string_view::npos; feed = rest.find('\n')) {
      if (pending.empty()) {
        see(rest.substr(0, feed));
      } else {
        see(extend(pending, rest.substr(0, feed)));
        pending.clear();
      }
      rest.remove_prefix(feed + 1);
    }
    extend(pending, rest);
  }
  return pending;
}

}  // namespace windway
