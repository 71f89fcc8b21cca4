// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/toml_outline.hpp"

#include <algorithm>

namespace windway {
namespace {

constexpr std::size_t triple = 3;  // quotes about a text of several lines

/// Behind the text of several lines whose content begins at `from`; its last two letters may be quotes too.
std::size_t end_of_lines(std::string_view toml, std::size_t from, char quote) {
  for (std::size_t at = from; at < toml.size(); ++at) {
    if (quote == '"' && toml[at] == '\\') {
      ++at;
    } else if (toml.substr(at).starts_with(std::string(triple, quote))) {
      const std::size_t most = std::min(at + triple + 2, toml.size());
      at += triple;
      while (at < most && toml[at] == quote) ++at;
      return at;
    }
  }
  return toml.size();
}

/// Behind the text of one line whose content begins at `from`. Where it is not closed it ends with its line.
std::size_t end_of_one_line(std::string_view toml, std::size_t from, char quote) {
  std::size_t at = from;
  while (at < toml.size() && toml[at] != quote && toml[at] != '\n') at += quote == '"' && toml[at] == '\\' ? 2 : 1;
  return at < toml.size() && toml[at] == quote ? at + 1 : std::min(at, toml.size());
}

std::size_t end_of_quoted(std::string_view toml, std::size_t at) {
  const char quote = toml[at];
  const bool has_lines = toml.substr(at).starts_with(std::string(triple, quote));
  return has_lines ? end_of_lines(toml, at + triple, quote) : end_of_one_line(toml, at + 1, quote);
}

}  // namespace

std::string toml_outline(std::string_view toml) {
  std::string outline;
  outline.reserve(toml.size());
  while (outline.size() < toml.size()) {
    const std::size_t at = outline.size();
    if (toml[at] == '"' || toml[at] == '\'') {
      outline.append(end_of_quoted(toml, at) - at, 'x');
    } else if (toml[at] == '#') {
      outline.append(std::min(toml.find('\n', at), toml.size()) - at, 'x');
    } else {
      outline += toml[at];
    }
  }
  return outline;
}

}  // namespace windway
