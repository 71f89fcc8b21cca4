// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/joined_results.hpp"

namespace windway {

std::vector<std::string_view> joined_results(std::string_view line) {
  std::vector<std::string_view> results;
  // Within a result no text can look so: its quotation marks have a backslash before them.
  for (std::size_t next = line.find(begins_a_result, 1); next != std::string_view::npos;
       next = line.find(begins_a_result, 1)) {
    results.push_back(line.substr(0, next));
    line.remove_prefix(next);
  }
  results.push_back(line);
  return results;
}

}  // namespace windway
