// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace windway {

/// Edit distance of two words in bytes (Levenshtein 1966; two neighbours that changed places count as one edit, Damerau
/// 1964; from memory); capitals equal small letters.
int letters_apart(const std::string& one, const std::string& other);

/// The known word that was probably meant: the one at the least edit distance, at most a third of its letters. Empty
/// where none is so near, or two are equally near: a wrong guess is worse than none.
std::optional<std::string> nearest_word(const std::string& word, const std::vector<std::string>& known);

}  // namespace windway
