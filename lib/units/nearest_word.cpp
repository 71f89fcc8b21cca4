// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/nearest_word.hpp"

#include <algorithm>
#include <cctype>
#include <numeric>
#include <utility>

namespace windway {
namespace {

bool same_letter(char one, char other) {
  return std::tolower(static_cast<unsigned char>(one)) == std::tolower(static_cast<unsigned char>(other));
}

}  // namespace

int letters_apart(const std::string& one, const std::string& other) {
  // Distances of the read part of `one` from each prefix of `other`: now, one letter before, two letters before.
  std::vector<int> apart(other.size() + 1), before, two_before;
  std::iota(apart.begin(), apart.end(), 0);
  for (std::size_t read = 0; read < one.size(); ++read) {
    two_before = std::exchange(before, apart);
    ++apart[0];
    for (std::size_t at = 0; at < other.size(); ++at) {
      const int changed = before[at] + (same_letter(one[read], other[at]) ? 0 : 1);
      apart[at + 1] = std::min({changed, before[at + 1] + 1, apart[at] + 1});
      if (read > 0 && at > 0 && same_letter(one[read], other[at - 1]) && same_letter(one[read - 1], other[at]))
        apart[at + 1] = std::min(apart[at + 1], two_before[at - 1] + 1);
    }
  }
  return apart.back();
}

std::optional<std::string> nearest_word(const std::string& word, const std::vector<std::string>& known) {
  std::optional<std::string> nearest;
  int least = static_cast<int>(word.size());
  for (const std::string& each : known) {
    const int apart = letters_apart(word, each);
    if (apart > std::max<int>(1, static_cast<int>(each.size()) / 3) || apart > least) continue;
    nearest = apart < least ? std::optional(each) : std::nullopt;
    least = apart;
  }
  return nearest;
}

}  // namespace windway
