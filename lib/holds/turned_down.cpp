// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/turned_down.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "units/order_statistics.hpp"

namespace windway {

namespace {

constexpr double within_s = 1.0;          // a filter reacts sooner
constexpr double stands_s = 0.2;          // the softer tone, at least
constexpr double same_note_cents = 20.0;  // while it is turned down
constexpr double same_cents = 3.0;        // breath that much softer bends the steadiest note by more
constexpr double softer_db = 12.0;        // at least
constexpr double stands_within_db = 3.0;  // from the first half of that time to the second; an echo falls by more

double middle(const std::vector<double>& values, std::size_t first, std::size_t count) {
  const auto from = values.begin() + static_cast<long>(first);
  return *median_of({from, from + static_cast<long>(count)});
}

double mean_cents(const FrameSeries& series, std::size_t first, std::size_t count) {
  double sum = 0;
  for (std::size_t i = first; i < first + count; ++i) sum += *series.cents[i] / static_cast<double>(count);
  return sum;
}

}  // namespace

bool turned_down_after(const FrameSeries& series, const FrameSpan& steady) {
  const auto stands = static_cast<std::size_t>(std::lround(stands_s / series.hop_s));
  const std::size_t before = std::min(stands, steady.frames());
  const double before_cents = mean_cents(series, steady.last + 1 - before, before);
  const double before_db = middle(series.level_db, steady.last + 1 - before, before);
  const std::size_t last =
      std::min(series.cents.size(), steady.last + 1 + static_cast<std::size_t>(std::lround(within_s / series.hop_s)));
  std::size_t sounds = steady.last + 1;  // one past the last frame in which the tone sounds on
  while (sounds < last && series.cents[sounds] && std::abs(*series.cents[sounds] - before_cents) < same_note_cents)
    ++sounds;
  if (sounds < steady.last + 1 + stands) return false;
  const std::size_t first = sounds - stands;
  const double early_db = middle(series.level_db, first, stands / 2);
  const double late_db = middle(series.level_db, first + stands / 2, stands / 2);
  return before_db - late_db > softer_db && early_db - late_db < stands_within_db &&
         std::abs(mean_cents(series, first, stands) - before_cents) < same_cents;
}

}  // namespace windway
