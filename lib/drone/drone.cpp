// SPDX-License-Identifier: GPL-3.0-or-later
#include "drone/drone.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr double highest_harmonic_hz = 8000.0;
constexpr double highest_share_of_rate = 0.45;  // of half the rate nothing may be left
constexpr int most_harmonics = 12;

int harmonics_of(const DroneSettings& settings) {
  const double highest_hz = std::min(highest_harmonic_hz, highest_share_of_rate * settings.rate_hz);
  return std::clamp(static_cast<int>(highest_hz / settings.frequency_hz), 1, most_harmonics);
}

}  // namespace

DroneSound::DroneSound(const DroneSettings& settings) : settings_(settings) {
  assert(settings.frequency_hz > 0 && 2.0 * settings.frequency_hz < settings.rate_hz);
  const int harmonics = harmonics_of(settings);
  for (int n = 1; n <= harmonics; ++n) {
    amplitudes_.push_back(std::pow(n, -1.5));
    phases_rad_.push_back(-std::numbers::pi * n * (n - 1) / harmonics);
  }
  constexpr int points = 4096;  // of one period: 12 harmonics have no peak between two of them
  double highest = 0;
  for (int point = 0; point < points; ++point)
    highest = std::max(highest, std::abs(wave_at(static_cast<double>(point) / points)));
  for (double& amplitude : amplitudes_) amplitude *= settings.peak / highest;
  length_samples_ = static_cast<std::size_t>(std::llround(settings.duration_s * settings.rate_hz));
}

double DroneSound::wave_at(double turns) const {
  double sum = 0;
  for (std::size_t h = 0; h < amplitudes_.size(); ++h)
    sum += amplitudes_[h] * std::cos(full_turn_rad * static_cast<double>(h + 1) * turns + phases_rad_[h]);
  return sum;
}

/// A raised cosine at either end.
double DroneSound::edge_at(std::size_t sample) const {
  const double from_end_s = static_cast<double>(std::min(sample, length_samples_ - 1 - sample)) / settings_.rate_hz;
  if (from_end_s >= settings_.edge_s) return 1.0;
  return 0.5 - 0.5 * std::cos(std::numbers::pi * from_end_s / settings_.edge_s);
}

std::size_t DroneSound::read(std::span<double> samples) {
  const std::size_t count = std::min(samples.size(), length_samples_ - at_sample_);
  for (std::size_t i = 0; i < count; ++i, ++at_sample_) {
    // The turn since the start, from the sample's number: errors do not add up.
    const double turns = settings_.frequency_hz * static_cast<double>(at_sample_) / settings_.rate_hz;
    samples[i] = edge_at(at_sample_) * wave_at(turns - std::floor(turns));
  }
  return count;
}

}  // namespace windway
