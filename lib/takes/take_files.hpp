// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace windway {

struct TakeFiles {
  std::vector<std::string> takes;
  std::vector<std::string> passed_over;  ///< files in folders without the ending of a sound file
};

/// The takes among files and folders. A file given by name is a take with any ending, even if it does not exist:
/// reading it reports that. So is a folder without read permission. A folder gives all sound files in it and in its
/// folders, sorted bytewise by path, without hidden ones; links are followed, each folder once. A file given twice is
/// taken once.
TakeFiles take_files(const std::vector<std::string>& paths);

/// A list of paths: one a line (LF or CR LF), or each ended by a zero byte if there is one. Blank ones are ignored.
std::vector<std::string> listed_paths(std::istream& list);

}  // namespace windway
