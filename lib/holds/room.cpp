// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/room.hpp"

#include <cmath>

namespace windway {

namespace {

struct Disagreement {
  double chi_squared = 0;
  double degrees_of_freedom = 0;
};

Disagreement disagreement(const std::vector<HarmonicGain>& gains, double room_rad2) {
  double weights = 0;
  double mean = 0;
  for (const HarmonicGain& g : gains) {
    const double weight = g.number * g.number / (g.variance_rad2 + room_rad2);
    weights += weight;
    mean += weight * g.gain_rad;
  }
  mean /= weights;
  Disagreement d;
  for (const HarmonicGain& g : gains) {
    const double off = g.number * (g.gain_rad - mean);
    d.chi_squared += off * off / (g.variance_rad2 + room_rad2);
  }
  d.degrees_of_freedom = static_cast<double>(gains.size()) - 1.0;
  return d;
}

/// Over 1 where the harmonics disagree by more than noise and this room variance together explain.
double excess(const std::vector<std::vector<HarmonicGain>>& gains, double room_rad2) {
  Disagreement sum;
  for (const auto& g : gains) {
    if (g.size() < 2) continue;
    const Disagreement d = disagreement(g, room_rad2);
    sum.chi_squared += d.chi_squared;
    sum.degrees_of_freedom += d.degrees_of_freedom;
  }
  return sum.degrees_of_freedom > 0 ? sum.chi_squared / sum.degrees_of_freedom : 0.0;
}

}  // namespace

double room_phase_variance_rad2(const std::vector<std::vector<HarmonicGain>>& gains) {
  if (excess(gains, 0.0) <= 1.0) return 0.0;
  double low = 1e-9;
  double high = 10.0;  // rad^2: a room turns a phase by no more than about half a turn
  for (int i = 0; i < 60; ++i) {
    const double middle = std::sqrt(low * high);
    (excess(gains, middle) > 1.0 ? low : high) = middle;
  }
  return high;
}

}  // namespace windway
