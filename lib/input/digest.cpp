// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/digest.hpp"

#include <fcntl.h>
#include <nettle/sha2.h>
#include <sys/types.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <filesystem>
#include <system_error>
#include <vector>

namespace windway {
namespace {

constexpr std::size_t read_bytes = std::size_t{256} * 1024;  // fits the second-level cache

ssize_t read_at(int descriptor, std::vector<unsigned char>& buffer, off_t offset) {
  ssize_t got = 0;
  do {
    got = pread(descriptor, buffer.data(), buffer.size(), offset);
  } while (got < 0 && errno == EINTR);
  if (got < 0) throw std::system_error(errno, std::generic_category(), "read");
  return got;
}

/// A digest under construction.
class Digest {
 public:
  Digest() { sha256_init(&state_); }
  void add(const void* bytes, std::size_t count) {
    sha256_update(&state_, count, static_cast<const std::uint8_t*>(bytes));
  }
  std::string finished() {
    std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
    sha256_digest(&state_, digest.size(), digest.data());
    std::string text;
    for (const std::uint8_t byte : digest) {
      constexpr const char* digits = "0123456789abcdef";
      text += digits[byte >> 4U];
      text += digits[byte & 15U];
    }
    return text;
  }

 private:
  sha256_ctx state_{};
};

}  // namespace

std::string sha256_of_file(int descriptor) {
  Digest digest;
  std::vector<unsigned char> buffer(read_bytes);
  off_t offset = 0;
  while (const ssize_t got = read_at(descriptor, buffer, offset)) {
    digest.add(buffer.data(), static_cast<std::size_t>(got));
    offset += got;
  }
  return digest.finished();
}

std::string sha256_of_path(const std::string& path) {
  std::error_code failure;
  if (!std::filesystem::is_regular_file(path, failure)) return "";  // a device may have no end
  const int descriptor = open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (descriptor < 0) return "";
  std::string digest;
  try {
    digest = sha256_of_file(descriptor);
  } catch (const std::system_error&) {  // a disk that fails
    digest.clear();
  }
  close(descriptor);
  return digest;
}

std::string sha256_of_text(std::string_view text) {
  Digest digest;
  digest.add(text.data(), text.size());
  return digest.finished();
}

}  // namespace windway
