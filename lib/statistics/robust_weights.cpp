// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/robust_weights.hpp"

#include <cmath>

namespace windway {

double huber_weight(double sds) {
  constexpr double full_weight_to = 2.0;
  return std::abs(sds) <= full_weight_to ? 1.0 : full_weight_to / std::abs(sds);
}

double bisquare_weight(double sds) {
  const double u = sds / bisquare_reach_sds;
  return std::abs(u) < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

}  // namespace windway
