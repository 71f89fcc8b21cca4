// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/random.hpp"

#include <cmath>
#include <numbers>

namespace windway::synthesis {

double Random::uniform(double low, double high) {
  const double unit = static_cast<double>(engine_() >> 11) * 0x1.0p-53;  // 53 bits: every double in [0, 1) of that grid
  return low + (high - low) * unit;
}

// G. E. P. Box and M. E. Muller, Ann. Math. Statist. 29 (1958) 610 (from memory)
double Random::normal() {
  if (spare_) {
    const double value = *spare_;
    spare_.reset();
    return value;
  }
  const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform(0.0, 1.0)));
  const double angle = 2.0 * std::numbers::pi * uniform(0.0, 1.0);
  spare_ = radius * std::sin(angle);
  return radius * std::cos(angle);
}

}  // namespace windway::synthesis
