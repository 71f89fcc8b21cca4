// SPDX-License-Identifier: GPL-3.0-or-later
#include "table.hpp"

#include <algorithm>
#include <stdexcept>

namespace windway::test {
namespace {

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = text.find(separator);
    parts.emplace_back(text.substr(0, end));
    if (end == std::string_view::npos) return parts;
    text.remove_prefix(end + 1);
  }
}

}  // namespace

Table::Table(std::string_view csv) {
  for (std::string& line : split(csv, '\n')) {
    if (line.ends_with('\r')) line.pop_back();
    if (line.empty()) continue;
    auto cells = split(line, ',');
    (columns_.empty() ? columns_ : rows_.emplace_back()) = std::move(cells);
  }
}

const std::string& Table::cell(std::size_t row, const std::string& column) const {
  const auto found = std::find(columns_.begin(), columns_.end(), column);
  if (found == columns_.end()) throw std::out_of_range("no column " + column);
  return rows_.at(row).at(static_cast<std::size_t>(found - columns_.begin()));
}

}  // namespace windway::test
