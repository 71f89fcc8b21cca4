// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <iosfwd>
#include <set>
#include <string>
#include <vector>

namespace windway {

struct TakeFiles {
  std::vector<std::string> takes;
  std::vector<std::string> passed_over{};  ///< files in folders without the ending of a sound file
  std::set<std::string> folders{};         ///< true paths of all that were searched
};

/// Whether a file in a folder is a take by its name. So is a link to nowhere: it is a take that is missing. A pipe is
/// none, for opening it would block.
bool is_named_as_take(const std::string& path);

/// The takes among files and folders. A file given by name is a take with any ending, even if it does not exist:
/// reading it reports that. So is a folder without read permission. A folder gives all sound files in it and in its
/// folders, sorted bytewise by path, without hidden ones; links are followed, each folder once. A file given twice is
/// taken once.
TakeFiles take_files(const std::vector<std::string>& paths);

/// A list of paths: one a line (LF or CR LF), or each ended by a zero byte if there is one. Blank ones are ignored.
std::vector<std::string> listed_paths(std::istream& list);

}  // namespace windway
