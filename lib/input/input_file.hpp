// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace windway {

/// A take's file, open for reading at any position. Standard input and pipes are first copied, block by block and up to
/// 4 GiB, into a temporary file without a name; whoever opens them again gets that copy.
class InputFile {
 public:
  /// Opens `path` ("-": standard input). Throws Error (kind recording) with the remedy: missing, a folder, a
  /// device, no permission, empty.
  explicit InputFile(const std::string& path);
  ~InputFile();
  InputFile(const InputFile&) = delete;
  InputFile& operator=(const InputFile&) = delete;

  int descriptor() const { return descriptor_; }
  std::int64_t size_bytes() const { return size_bytes_; }
  /// Fills `bytes` from `offset` on and returns how many came; fewer at the end of the file, or where it cannot be
  /// read.
  std::size_t read_at(std::int64_t offset, std::span<unsigned char> bytes) const;
  /// Up to `count` bytes from `offset` on; fewer at the end of the file.
  std::vector<unsigned char> bytes_at(std::int64_t offset, std::size_t count) const;

 private:
  int descriptor_ = -1;
  std::int64_t size_bytes_ = 0;
};

/// The name of a take in a sentence: its path, or "standard input".
std::string take_name(const std::string& path);

/// Every error about a take begins so: "cannot read take.wav", "cannot read standard input".
std::string cannot_read(const std::string& path);

/// Throws Error (kind recording) with that, and why and what to do.
[[noreturn]] void refuse_to_read(const std::string& path, const std::string& why_and_remedy);

}  // namespace windway
