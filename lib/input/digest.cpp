// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/digest.hpp"

#include <fcntl.h>
#include <openssl/evp.h>
#include <sys/types.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <filesystem>
#include <memory>
#include <new>
#include <system_error>
#include <vector>

namespace windway {
namespace {

constexpr std::size_t read_bytes = std::size_t{256} * 1024;  // fits the second-level cache

void require(int openssl_result) {
  if (openssl_result != 1) throw std::system_error(ENOTSUP, std::generic_category(), "SHA-256");
}

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
  Digest() {
    if (!context_) throw std::bad_alloc();
    require(EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr));
  }
  void add(const void* bytes, std::size_t count) { require(EVP_DigestUpdate(context_.get(), bytes, count)); }
  std::string finished() {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int length = 0;
    require(EVP_DigestFinal_ex(context_.get(), digest.data(), &length));
    std::string text;
    for (unsigned int i = 0; i < length; ++i) {
      constexpr const char* digits = "0123456789abcdef";
      text += digits[digest[i] >> 4U];
      text += digits[digest[i] & 15U];
    }
    return text;
  }

 private:
  std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_{EVP_MD_CTX_new(), &EVP_MD_CTX_free};
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
