// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/capability.hpp"

#include <algorithm>
#include <cmath>

#include "units/units.hpp"

namespace windway {

std::optional<Capability> capability(double mean, double sd, const ToleranceBand& band) {
  const double width = band.upper - band.lower;
  if (!std::isfinite(mean) || !std::isfinite(width) || !std::isfinite(sd)) return std::nullopt;
  if (width <= 0.0 || sd <= 0.0) return std::nullopt;
  return Capability{.cp = width / (6.0 * sd), .cpk = std::min(band.upper - mean, mean - band.lower) / (3.0 * sd)};
}

double capability_u95_share(std::size_t n) {
  return normal_u95_factor / std::sqrt(2.0 * (static_cast<double>(std::max<std::size_t>(n, 2)) - 1.0));
}

}  // namespace windway
