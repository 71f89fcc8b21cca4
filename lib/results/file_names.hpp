// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

/// A name for a file of each text, in their order: the text itself where it is a good name. Letters and figures of any
/// script, '-', '_' and '.' stay, each other character becomes '_'; a name has at most 100 bytes, and begins with
/// neither '.' nor '-'. Of those that would be alike, also where a disk knows no capital letters, all but the first get
/// a number: a text that is a good name comes before one that is not.
std::vector<std::string> file_names_of(const std::vector<std::string>& texts);

}  // namespace windway
