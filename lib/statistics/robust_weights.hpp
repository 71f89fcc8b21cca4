// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

namespace windway {

// Weights of a residual of `sds` standard deviations in an M-estimate (P. J. Huber, Robust Statistics, 1981). They
// stand in the header because fits ask for them in their innermost loop.

/// Huber: 1 up to two standard deviations, less beyond.
inline double huber_weight(double sds) {
  constexpr double full_weight_to_sds = 2.0;
  return std::abs(sds) <= full_weight_to_sds ? 1.0 : full_weight_to_sds / std::abs(sds);
}

/// From here on Tukey's bisquare gives no weight (95 % efficient for normal residuals, from memory).
inline constexpr double bisquare_reach_sds = 4.685;

/// Tukey's bisquare: 1 at none, 0 from `bisquare_reach_sds` on.
inline double bisquare_weight(double sds) {
  const double u = sds / bisquare_reach_sds;
  return std::abs(u) < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

}  // namespace windway
