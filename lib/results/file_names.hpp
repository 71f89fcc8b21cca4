// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway {

/// A name for a file of each text, in their order; the texts differ. A good name has letters and figures of any script,
/// '-', '_' and '.', at most 100 bytes, and begins with neither '.' nor '-'. A text that is one, and is like no other
/// where a disk knows no capital letters, is its own name. Each other has what is good of it, '_' for the rest, and
/// digits of its SHA-256, so that the next call names it alike, whichever other texts come or go.
std::vector<std::string> file_names_of(const std::vector<std::string>& texts);

}  // namespace windway
