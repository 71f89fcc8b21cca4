// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/extremes.hpp"

#include <algorithm>
#include <array>
#include <cassert>

#include "units/four.hpp"

namespace windway {
namespace {

Four lower(Four a, Four b) { return a < b ? a : b; }
Four higher(Four a, Four b) { return a > b ? a : b; }

}  // namespace

Extremes extremes_of(std::span<const float> values) {
  assert(!values.empty());
  std::array<Four, 4> lows, highs;  // side by side: none waits for another's comparison
  lows.fill(Four{} + values.front());
  highs = lows;
  std::size_t k = 0;
  for (; k + 16 <= values.size(); k += 16) {
    for (std::size_t i = 0; i < 4; ++i) {
      const Four here = four_at(&values[k + 4 * i]);
      lows[i] = lower(lows[i], here);
      highs[i] = higher(highs[i], here);
    }
  }
  const Four low = lower(lower(lows[0], lows[1]), lower(lows[2], lows[3]));
  const Four high = higher(higher(highs[0], highs[1]), higher(highs[2], highs[3]));
  Extremes found{std::min({low[0], low[1], low[2], low[3]}), std::max({high[0], high[1], high[2], high[3]})};
  for (; k < values.size(); ++k) {
    found.lowest = std::min(found.lowest, values[k]);
    found.highest = std::max(found.highest, values[k]);
  }
  return found;
}

}  // namespace windway
