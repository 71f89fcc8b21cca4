// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "error.hpp"

namespace windway::fuzz {

inline std::string text_of(const std::uint8_t* bytes, std::size_t count) {
  return {reinterpret_cast<const char*>(bytes), count};
}

/// Runs `work`. An Error is windway's answer to a bad input; every other exception ends the program.
template <typename Work>
void unless_refused(const Work& work) {
  try {
    work();
  } catch (const Error&) {
  }
}

/// Ends the program with a finding where the claim is false.
inline void require(bool is_true, std::string_view claim) {
  if (is_true) return;
  std::fprintf(stderr, "not so: %.*s\n", static_cast<int>(claim.size()), claim.data());
  std::abort();
}

/// A file in memory that can be opened by its path.
class MemoryFile {
 public:
  MemoryFile(const void* bytes, std::size_t count) : descriptor_(memfd_create("fuzz", MFD_CLOEXEC)) {
    require(descriptor_ >= 0 && write(descriptor_, bytes, count) == static_cast<ssize_t>(count), "the file is written");
    lseek(descriptor_, 0, SEEK_SET);
  }
  ~MemoryFile() { close(descriptor_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;
  std::string path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

 private:
  int descriptor_;
};

/// Texts from the input, one after the other.
class Texts {
 public:
  Texts(const std::uint8_t* bytes, std::size_t count) : rest_(reinterpret_cast<const char*>(bytes), count) {}
  /// Up to the next line feed; empty at the end.
  std::string next() {
    const std::string text(rest_.substr(0, rest_.find('\n')));
    rest_.remove_prefix(std::min(rest_.size(), text.size() + 1));
    return text;
  }

 private:
  std::string_view rest_;
};

}  // namespace windway::fuzz
