// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway::cli {

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

  /// Writes the content and puts the file in its place. Throws Error (kind output); nothing is left then.
  void finish(const std::string& content);

 private:
  [[noreturn]] void fail(int error_number) const;
  void open_beside();

  std::string path_;
  std::string passing_path_;  ///< empty: written as it is, or in its place already
  int descriptor_ = -1;
};

}  // namespace windway::cli
