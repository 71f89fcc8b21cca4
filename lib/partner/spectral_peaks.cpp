// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/spectral_peaks.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/noise_power.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double lowest_hz = 60.0;
constexpr std::size_t around_bins = 30;   // where the noise beside a line is looked for
constexpr double clear_of_median = 24.0;  // noise alone: the power of one bin in 10^7 is more
constexpr double clear_of_loudest_db = -66.0;

/// The middle of the powers around a bin: most of them are between the lines.
double median_around(const SpectrumFrame& spectrum, std::size_t bin, std::vector<float>& scratch) {
  const std::size_t from = bin > around_bins ? bin - around_bins : 1;
  const std::size_t to = std::min(bin + around_bins + 1, spectrum.power.size());
  scratch.assign(spectrum.power.begin() + static_cast<long>(from), spectrum.power.begin() + static_cast<long>(to));
  const auto middle = scratch.begin() + static_cast<long>(scratch.size() / 2);
  std::nth_element(scratch.begin(), middle, scratch.end());
  return *middle;
}

}  // namespace

std::vector<SpectralPeak> spectral_peaks(const SpectrumFrame& spectrum, double bin_hz) {
  const std::vector<float>& power = spectrum.power;
  const Band band = band_of(spectrum, bin_hz, lowest_hz, 1e9);
  std::vector<SpectralPeak> peaks;
  if (band.from + 2 >= band.to) return peaks;
  const double loudest =
      *std::max_element(power.begin() + static_cast<long>(band.from), power.begin() + static_cast<long>(band.to));
  const double least = std::max<double>(silence_power, loudest * power_from_db(clear_of_loudest_db));
  std::vector<float> scratch;
  for (std::size_t bin = std::max<std::size_t>(band.from, 2); bin + 1 < band.to; ++bin) {
    if (power[bin] < least || power[bin] < power[bin - 1] || power[bin] <= power[bin + 1]) continue;
    if (power[bin] < clear_of_median * median_around(spectrum, bin, scratch)) continue;
    const double offset = hann_peak_offset_bins(power[bin - 1], power[bin], power[bin + 1]);
    const double lobe = hann_lobe(offset);
    peaks.push_back({(static_cast<double>(bin) + offset) * bin_hz, power[bin] / (lobe * lobe)});
  }
  return peaks;
}

}  // namespace windway
