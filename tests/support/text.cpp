// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/text.hpp"

#include <sstream>

namespace windway {

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::string unwrapped(const std::string& text) {
  std::string line;
  std::istringstream words(text);
  for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
  return line;
}

}  // namespace windway
