// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace windway {

/// How many letters must be put in, left out or changed to make one word of the other (Levenshtein 1966, from memory);
/// capitals count as small letters. Counted in bytes.
int letters_apart(const std::string& one, const std::string& other);

/// Which of the known words was probably meant: the one that differs least, by a third of its letters at most. Empty
/// where none is so near, or two are equally near: a wrong guess is worse than none.
std::optional<std::string> nearest_word(const std::string& word, const std::vector<std::string>& known);

}  // namespace windway
