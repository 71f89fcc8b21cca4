// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace windway::cli {

/// A folder with a sheet for each instrument that passes. Nothing is written but plain files in it.
class SheetFolder {
 public:
  /// Makes the folder where it is not there. `serials`: of all instruments, those without a sheet too, so that the
  /// names of the files do not depend on who passes. `inputs`: files that the call reads, never written over. Throws
  /// Error (kind output) where there can be no such folder.
  SheetFolder(std::string path, const std::vector<std::string>& serials, std::vector<std::string> inputs);

  /// Leaves out what would write over an input, or a file that is no sheet. Throws Error (kind output).
  void write(const std::string& serial, const std::string& sheet);
  void leave_out(const std::string& serial, const std::string& why);

  std::size_t written() const { return written_; }
  /// How many were written, and which were left out and why: the first 500 of them.
  std::string report(std::size_t columns) const;

 private:
  std::string place_of(const std::string& serial) const;

  std::string path_;
  std::vector<std::string> inputs_;
  std::map<std::string, std::string> names_;  ///< of files, by serial
  std::vector<std::string> left_out_;
  std::size_t further_left_out_ = 0;
  std::size_t written_ = 0;
};

}  // namespace windway::cli
