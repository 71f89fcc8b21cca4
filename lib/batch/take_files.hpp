// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace windway {

struct TakeFiles {
  std::vector<std::string> takes;
  std::vector<std::string> passed_over;  ///< files in folders whose names do not end as those of sound files do
};

/// The takes among files and folders. A file that is given by name is a take whatever it is called, also one that is
/// not there (that comes out when it is read). A folder gives all sound files in it and its folders, sorted by their
/// paths; hidden ones are left out. The same file is taken once, where it is named first.
TakeFiles take_files(const std::vector<std::string>& paths);

/// A list of paths, one a line (LF or CR LF) or each ended by a zero byte; empty lines say nothing.
std::vector<std::string> listed_paths(std::istream& list);

}  // namespace windway
