// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/group_difference.hpp"

#include <cmath>

#include "units/coverage_factor.hpp"

namespace windway {
namespace {

double variance_of_mean(const Moments& moments) {
  const auto n = static_cast<double>(moments.n);
  return moments.m2 / (n * (n - 1.0));
}

}  // namespace

std::optional<CentsEstimate> difference_of_means(const Moments& group, const Moments& rest, std::size_t comparisons) {
  if (group.n < 2 || rest.n < 2) return std::nullopt;
  const double of_group = variance_of_mean(group);
  const double of_rest = variance_of_mean(rest);
  const double variance = of_group + of_rest;
  if (variance <= 0.0) return std::nullopt;
  // As shares: squares of a tiny variance would underflow.
  const double group_share = of_group / variance;
  const double rest_share = of_rest / variance;
  const double degrees = 1.0 / (group_share * group_share / static_cast<double>(group.n - 1) +
                                rest_share * rest_share / static_cast<double>(rest.n - 1));
  return CentsEstimate{.cents = group.mean - rest.mean,
                       .u95_cents = u95_factor(degrees, comparisons) * std::sqrt(variance)};
}

}  // namespace windway
