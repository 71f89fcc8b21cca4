// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/value_sketch.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace windway {
namespace {

constexpr double steps_per_cent = 20.0;
constexpr double end_cents = 600.0;

std::int32_t nearest_step(double cents) { return static_cast<std::int32_t>(std::lround(cents * steps_per_cent)); }
double middle_cents(const SketchBin& bin) { return bin.step / steps_per_cent; }

/// Bin of the value of this rank in ascending order, from 0; it must be below the count.
std::vector<SketchBin>::const_iterator bin_of_rank(const ValueSketch& sketch, std::uint64_t rank) {
  std::uint64_t up_to_here = 0;
  return std::ranges::find_if(sketch.bins, [&](const SketchBin& bin) { return (up_to_here += bin.count) > rank; });
}

}  // namespace

void add(ValueSketch& sketch, double cents) {
  if (!std::isfinite(cents)) return;
  const std::int32_t step = nearest_step(std::clamp(cents, -end_cents, end_cents));
  const auto at = std::ranges::lower_bound(sketch.bins, step, {}, &SketchBin::step);
  if (at != sketch.bins.end() && at->step == step) {
    at->count += 1;
  } else {
    sketch.bins.insert(at, {.step = step, .count = 1});
  }
  sketch.count += 1;
}

std::optional<double> quantile(const ValueSketch& sketch, double share) {
  assert(share >= 0.0 && share <= 1.0);
  if (sketch.count == 0) return std::nullopt;
  const double place = share * static_cast<double>(sketch.count - 1);
  const auto rank = static_cast<std::uint64_t>(place);
  const double low_cents = middle_cents(*bin_of_rank(sketch, rank));
  const double high_cents = middle_cents(*bin_of_rank(sketch, std::min(rank + 1, sketch.count - 1)));
  return low_cents + (place - static_cast<double>(rank)) * (high_cents - low_cents);
}

}  // namespace windway
