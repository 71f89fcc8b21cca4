// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/take_lines.hpp"

#include <algorithm>
#include <cmath>

namespace windway {
namespace {

constexpr double line_s = usual_line_s;
constexpr double margin_s = 0.4;

/// Where the line that begins with the hold `first` ends: in the pause nearest to an even cut of what is left, or
/// before a long silence. Gives the hold after it.
std::size_t end_of_line(const std::vector<const Hold*>& holds, std::size_t first) {
  constexpr double long_pause_s = 4.0;
  std::size_t last = first + 1;
  while (last < holds.size() && holds[last]->start_s - holds[last - 1]->end_s < long_pause_s) ++last;
  const double left_s = holds[last - 1]->end_s - holds[first]->start_s;
  const double count = std::max(1.0, std::round(left_s / line_s));
  if (count == 1) return last;
  const double cut_s = holds[first]->start_s + left_s / count;
  std::size_t best = last;
  double nearest_s = left_s;
  for (std::size_t end = first + 1; end < last; ++end) {
    const double off_s = std::abs(0.5 * (holds[end - 1]->end_s + holds[end]->start_s) - cut_s);
    if (off_s < nearest_s) nearest_s = off_s, best = end;
  }
  return best;
}

}  // namespace

std::vector<TakeLine> take_lines(const std::vector<const Hold*>& holds, std::size_t most_lines) {
  std::vector<TakeLine> lines;
  std::size_t first = 0;
  while (first < holds.size() && lines.size() < most_lines) {
    const std::size_t end = end_of_line(holds, first);
    lines.push_back({holds[first]->start_s - margin_s, holds[end - 1]->end_s + margin_s});
    first = end;
  }
  for (std::size_t line = 1; line < lines.size(); ++line)
    if (lines[line].start_s < lines[line - 1].end_s)
      lines[line].start_s = lines[line - 1].end_s = 0.5 * (lines[line].start_s + lines[line - 1].end_s);
  return lines;
}

}  // namespace windway
