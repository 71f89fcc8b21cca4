// SPDX-License-Identifier: GPL-3.0-or-later
#include "call_words.hpp"

#include "begin.hpp"

namespace windway::cli {
namespace {

std::string& call() {
  static std::string words;
  return words;
}

}  // namespace

void remember_call(const std::vector<std::string>& words) {
  call() = "windway";
  for (const std::string& word : words) call() += " " + shell_word(word);
}

PageSource page_source() { return {WINDWAY_VERSION, call()}; }

}  // namespace windway::cli
