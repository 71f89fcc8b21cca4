// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace windway {

/// Writes all of `text` to an open file descriptor. Gives 0, or the errno that stopped it.
int write_all(int descriptor, std::string_view text);

/// Removes what every OutputFile has not finished. A signal handler may call it.
void remove_unfinished_outputs() noexcept;

/// A file that appears whole or not at all: written beside its place under a passing name, then renamed. Made before
/// the work starts, so that a place that cannot be written is known at once. What is there and is no plain file (a
/// device, a pipe) is written as it is.
class OutputFile {
 public:
  /// Throws Error (kind output).
  explicit OutputFile(const std::string& path);
  ~OutputFile();
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;

  /// For what is written in pieces, before finish(""): a descriptor that stays open.
  int descriptor() const { return descriptor_; }
  /// Writes a piece. Throws Error (kind output).
  void write(const std::string& piece);

  /// Writes the rest of the content and puts the file in its place. Throws Error (kind output); nothing is left then.
  void finish(const std::string& content);

 private:
  [[noreturn]] void fail(int error_number) const;
  void open_beside();

  std::string path_;
  std::string passing_path_;  ///< empty: written as it is, or in its place already
  int descriptor_ = -1;
  unsigned rights_ = 0;                    ///< of what stood in its place, for that may be removed meanwhile
  std::optional<std::size_t> unfinished_;  ///< its place among the files to remove when interrupted
};

}  // namespace windway
