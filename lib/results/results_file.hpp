// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

/// Where a line lies in a results file, its line feed included.
struct LinePlace {
  std::uint64_t offset = 0;
  std::uint64_t length = 0;
};

/// A file of results that grows by whole lines. Whoever is killed in the middle of one leaves a part of it behind; it
/// is cut off when the file is opened again. One program writes it at a time. Everything throws Error (kind output).
class ResultsFile {
 public:
  /// Opens it, or makes it. Refuses (Error, kind usage) what holds results already unless `goes_on`.
  ResultsFile(const std::string& path, bool goes_on);
  ~ResultsFile();
  ResultsFile(const ResultsFile&) = delete;
  ResultsFile& operator=(const ResultsFile&) = delete;

  /// Calls `see` with each line (without its line feed) and its place, in order.
  void read_through(const std::function<void(std::string_view, LinePlace)>& see) const;
  std::string line_at(LinePlace place) const;
  /// Puts these lines in place of all that is there, whole or not at all.
  void replace_with(std::size_t count, const std::function<std::string(std::size_t)>& line_of);
  /// Adds one line, which ends with a line feed; gives where it lies.
  LinePlace append(const std::string& line);
  /// Sees to it that all of it is on the disk.
  void flush() const;

 private:
  void open_and_lock();
  void cut_off_part_of_a_line();
  void check_that_it_is_ours(std::uint64_t part) const;
  [[noreturn]] void fail(int error_number) const;

  std::string path_;
  int descriptor_ = -1;
};

}  // namespace windway
