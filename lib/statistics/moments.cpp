// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/moments.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace windway {

void add(Moments& moments, double value) {
  assert(std::isfinite(value));
  const bool is_first = moments.n == 0;
  const double from_old_mean = value - moments.mean;
  moments.n += 1;
  moments.mean += from_old_mean / static_cast<double>(moments.n);
  moments.m2 += from_old_mean * (value - moments.mean);
  moments.min = is_first ? value : std::min(moments.min, value);
  moments.max = is_first ? value : std::max(moments.max, value);
}

Moments moments_of(std::span<const double> values) {
  Moments moments;
  for (const double value : values) add(moments, value);
  return moments;
}

Moments merged(const Moments& one, const Moments& other) {
  if (one.n == 0) return other;
  if (other.n == 0) return one;
  const std::uint64_t n = one.n + other.n;
  const double share = static_cast<double>(other.n) / static_cast<double>(n);
  const double apart = other.mean - one.mean;
  return {.n = n,
          .mean = one.mean + apart * share,
          .m2 = one.m2 + other.m2 + apart * apart * share * static_cast<double>(one.n),
          .min = std::min(one.min, other.min),
          .max = std::max(one.max, other.max)};
}

std::optional<double> sample_sd(const Moments& moments) {
  if (moments.n < 2) return std::nullopt;
  return std::sqrt(moments.m2 / static_cast<double>(moments.n - 1));
}

}  // namespace windway
