// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/lines.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/pitch_track.hpp"
#include "units/four.hpp"

namespace windway {

namespace {

constexpr double peak_over_noise = 6.0;       // power; noise alone passes it in one bin of 400
constexpr double harmonic_within_bins = 0.5;  // a peak farther from its place is another sound's

bool is_peak(const float* power) { return power[0] > power[-1] && power[0] >= power[1]; }

/// Power of the strongest peak from `from` to before `to`, or 0.
float strongest_peak(std::span<const float> power, std::size_t from, std::size_t to) {
  Four most{};
  std::size_t k = from;
  for (; k + 4 <= to; k += 4) {
    const Four here = four_at(&power[k]);
    const FourTruths higher = (here > most) & (here > four_at(&power[k - 1])) & (here >= four_at(&power[k + 1]));
    most = higher ? here : most;
  }
  float strongest = std::max(std::max(most[0], most[1]), std::max(most[2], most[3]));
  for (; k < to; ++k) {
    if (is_peak(&power[k])) strongest = std::max(strongest, power[k]);
  }
  return strongest;
}

}  // namespace

std::optional<Line> strongest_line(std::span<const float> power, const Band& band, double noise_power) {
  const float strongest = strongest_peak(power, band.from, band.to);
  if (strongest <= peak_over_noise * noise_power) return std::nullopt;
  std::size_t k = band.from;
  const Four sought{strongest, strongest, strongest, strongest};
  while (k + 4 <= band.to && !any(four_at(&power[k]) == sought)) k += 4;
  while (power[k] != strongest || !is_peak(&power[k])) ++k;
  const double offset_bins = hann_peak_offset_bins(power[k - 1], power[k], power[k + 1]);
  return Line{(static_cast<double>(k) + offset_bins) * band.bin_hz, strongest};
}

double refined_hz(std::span<const float> power, const Band& band, double f0_hz, double noise_power) {
  const double f0_bins = f0_hz / band.bin_hz;
  const auto end_bins = static_cast<double>(band.to - 1);
  double sum_bins = 0;
  double weights = 0;
  for (int h = 1; h <= harmonics_tracked && h * f0_bins < end_bins; ++h) {
    const std::size_t bin = strongest_bin_near(power, h * f0_bins);
    if (!is_peak(&power[bin]) || power[bin] < 2.0 * peak_over_noise * noise_power) continue;
    const double place_bins =
        static_cast<double>(bin) + hann_peak_offset_bins(power[bin - 1], power[bin], power[bin + 1]);
    if (std::abs(place_bins - h * f0_bins) > harmonic_within_bins) continue;
    sum_bins += h * static_cast<double>(power[bin]) * (place_bins - h * f0_bins);
    weights += h * h * static_cast<double>(power[bin]);
  }
  return weights > 0 ? f0_hz + band.bin_hz * sum_bins / weights : f0_hz;
}

}  // namespace windway
