// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace windway::cli_tests {

/// A disk of 1 MiB in memory, which only this process and the programs that it starts see. Its mount ends with it.
class SmallDisk {
 public:
  /// Why this process may have no disk of its own; empty: it may. Asked before the first disk is made.
  static std::string why_none();

  SmallDisk();
  ~SmallDisk();
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;

  std::string path() const { return folder_.path(); }
  std::string path(const std::string& name) const { return folder_.path(name); }
  /// Names of all that is on it, but for what fills it.
  std::vector<std::string> contents() const;

  /// Leaves room for so many pages of 4096 bytes.
  void fill(std::size_t free_pages);
  void make_read_only();
  void make_writable();

 private:
  void mount_again(unsigned long flags) const;
  ScratchFolder folder_;
};

}  // namespace windway::cli_tests
