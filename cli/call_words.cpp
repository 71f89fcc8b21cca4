// SPDX-License-Identifier: GPL-3.0-or-later
#include "call_words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "begin.hpp"

namespace windway::cli {
namespace {

std::vector<std::string>& call() {
  static std::vector<std::string> words;
  return words;
}

template <std::size_t Size>
bool is_among(const std::array<std::string_view, Size>& names, std::string_view name) {
  return std::ranges::find(names, name) != names.end();
}

}  // namespace

void remember_call(const std::vector<std::string>& words) { call() = words; }

std::vector<std::string> measuring_words() {
  static constexpr std::array<std::string_view, 3> with_value{"--format", "--output", "--figure"};
  static constexpr std::array<std::string_view, 2> flags{"--curves", "--plot"};
  std::vector<std::string> words;
  for (std::size_t at = 0; at < call().size(); ++at) {
    const std::string& word = call()[at];
    const std::string_view name = std::string_view(word).substr(0, word.find('='));
    if (is_among(with_value, name))
      at += name == word ? 1 : 0;  // its value is the next word
    else if (!is_among(flags, name))
      words.push_back(word);
  }
  return words;
}

PageSource page_source() {
  std::string words = "windway";
  for (const std::string& word : call()) words += " " + shell_word(word);
  return {WINDWAY_VERSION, words};
}

}  // namespace windway::cli
