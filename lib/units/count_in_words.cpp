// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/count_in_words.hpp"

#include <algorithm>
#include <array>

namespace windway {

std::string count_in_words(std::string_view figure, std::string_view thing) {
  static constexpr std::array<std::string_view, 4> ones{"1", "+1", "-1", "± 1"};
  const bool is_one = std::ranges::find(ones, figure) != ones.end();
  return std::string(figure) + " " + std::string(thing) + (is_one ? "" : "s");
}

std::string count_in_words(std::size_t count, std::string_view thing) {
  return count_in_words(std::to_string(count), thing);
}

}  // namespace windway
