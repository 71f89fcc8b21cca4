// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/lines.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/pitch_track.hpp"
#include "units/extremes.hpp"

namespace windway {

namespace {

constexpr double peak_over_noise = 6.0;       // power; noise alone passes it in one bin of 400
constexpr double harmonic_within_bins = 0.5;  // a peak farther from its place is another sound's

bool is_peak(const float* power) { return power[0] > power[-1] && power[0] >= power[1]; }

/// The strongest peak of the band that is over `least`; 0 for none.
std::size_t strongest_peak(std::span<const float> power, const Band& band, float least) {
  const float most = extremes_of(power.subspan(band.from, band.to - band.from)).highest;
  if (most <= least) return 0;
  const auto at = static_cast<std::size_t>(std::find(power.begin() + static_cast<long>(band.from), power.end(), most) -
                                           power.begin());
  if (is_peak(&power[at])) return at;
  std::size_t strongest = 0;  // the largest value stands at the band's edge
  for (std::size_t k = band.from; k < band.to; ++k)
    if (power[k] > std::max(least, strongest > 0 ? power[strongest] : 0.0F) && is_peak(&power[k])) strongest = k;
  return strongest;
}

}  // namespace

std::optional<Line> strongest_line(std::span<const float> power, const Band& band, double noise_power) {
  const std::size_t strongest = strongest_peak(power, band, static_cast<float>(peak_over_noise * noise_power));
  if (strongest == 0) return std::nullopt;
  const double offset_bins = hann_peak_offset_bins(power[strongest - 1], power[strongest], power[strongest + 1]);
  return Line{(static_cast<double>(strongest) + offset_bins) * band.bin_hz, power[strongest]};
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
