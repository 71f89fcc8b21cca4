// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

struct TakeFiles {
  std::vector<std::string> takes;
  std::vector<std::string> passed_over;  ///< files in folders whose names do not end as those of sound files do
};

/// The takes among files and folders. A file that is given by name is a take whatever it is called, also one that is
/// not there (that comes out when it is read), and so is a folder that may not be read. A folder gives all sound files
/// in it and its folders, sorted bytewise by their paths; hidden ones are left out; links are followed, each folder
/// once. The same file is taken once, where it is named first.
TakeFiles take_files(const std::vector<std::string>& paths);

/// A list of paths, one a line (LF or CR LF) or, where there is a zero byte, each ended by one; blank ones say nothing.
std::vector<std::string> listed_paths(std::istream& list);

/// Whether a name ends as those of sound files do, in capitals or small letters: what libsndfile reads, and what
/// telephones record into, so that such a take comes out with its remedy and is not passed over.
bool has_sound_ending(std::string_view name);

}  // namespace windway
