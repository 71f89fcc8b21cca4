// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/breath_strength.hpp"

#include <algorithm>
#include <cmath>

namespace windway {
namespace {

/// What a dB of level is worth in the other two, of makers' flutes (from memory).
constexpr double noise_per_level = 2.0;
constexpr double cents_per_level_db = 3.0;

/// Means over three blocks: the breath's flutter must not decide which is the harder.
std::vector<double> smoothed(const std::vector<double>& values) {
  std::vector<double> smooth(values);
  for (std::size_t i = 1; i + 1 < values.size(); ++i) smooth[i] = (values[i - 1] + values[i] + values[i + 1]) / 3.0;
  return smooth;
}

/// About their mean, in their own standard deviations; nothing where they are all alike.
std::vector<double> standardised(std::vector<double> values) {
  const double n = static_cast<double>(values.size());
  double mean = 0, squares = 0;
  for (double v : values) mean += v / n;
  for (double v : values) squares += (v - mean) * (v - mean) / n;
  for (double& v : values) v = squares > 0 ? (v - mean) / std::sqrt(squares) : 0.0;
  return values;
}

}  // namespace

double middle_of(std::array<double, 3> values) {
  std::sort(values.begin(), values.end());
  return values[1];
}

double in_level_db(double level_db, double noise_db, double cents) {
  return middle_of({level_db, noise_db / noise_per_level, cents / cents_per_level_db});
}

std::vector<double> breath_strength(const PitchCurve& curve) {
  const std::vector<double> level = standardised(smoothed(curve.level_db)),
                            noise = standardised(smoothed(curve.noise_db)), pitch = standardised(smoothed(curve.cents));
  std::vector<double> strength;
  for (std::size_t i = 0; i < level.size(); ++i) strength.push_back(middle_of({level[i], noise[i], pitch[i]}));
  return strength;
}

}  // namespace windway
