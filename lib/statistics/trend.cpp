// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/trend.hpp"

#include <cmath>

#include "statistics/moments.hpp"
#include "units/coverage_factor.hpp"

namespace windway {

std::optional<CentsEstimate> rise_of(std::span<const double> in_order_cents) {
  const std::size_t n = in_order_cents.size();
  if (n < 3) return std::nullopt;
  Moments values;
  for (const double value : in_order_cents) add(values, value);
  const double last = static_cast<double>(n - 1);
  double covariance = 0;
  double square = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double from_middle = static_cast<double>(i) - last / 2.0;
    covariance += from_middle * (in_order_cents[i] - values.mean);
    square += from_middle * from_middle;
  }
  const double slope = covariance / square;
  const double rest = std::max(0.0, values.m2 - slope * covariance);
  const double degrees = static_cast<double>(n) - 2.0;
  const double u95_slope = u95_factor(degrees) * std::sqrt(rest / degrees / square);
  return CentsEstimate{slope * last, u95_slope * last};
}

}  // namespace windway
