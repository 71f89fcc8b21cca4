// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/prose.hpp"

#include <utility>

namespace windway {
namespace {

std::string text_of(const Words& words, std::size_t columns) { return wrapped(words.text, words.hanging, columns); }

std::string text_of(const Code& code, std::size_t) {
  std::string text;
  for (const std::string& line : code.lines) text += "  " + line + "\n";
  return text;
}

std::string text_of(const Grid& grid, std::size_t columns) { return table(grid.columns, grid.rows, columns); }

std::string text_of(const Gap&, std::size_t) { return "\n"; }

}  // namespace

Prose words(std::string text, std::size_t hanging) {
  return text.empty() ? Prose() : Prose(Words{std::move(text), hanging});
}

std::string text_of(const Prose& prose, std::size_t columns) {
  std::string text;
  for (const Part& part : prose.parts())
    text += std::visit([&](const auto& each) { return text_of(each, columns); }, part);
  return text;
}

}  // namespace windway
