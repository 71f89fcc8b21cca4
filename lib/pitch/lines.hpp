// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>

#include "pitch/noise_power.hpp"

namespace windway {

/// Fundamentals of voices are looked for too: so they are not taken for flutes.
inline constexpr double voice_min_hz = 45.0;

/// Of the bin nearest to a place in a spectrum and its two neighbours, which must be there, the strongest.
inline std::size_t strongest_bin_near(std::span<const float> power, double place_bins) {
  // Without branches: which of the three it is cannot be foretold.
  const std::size_t bin = nearest_bin(place_bins);
  const float lower = std::max(power[bin - 1], power[bin]);
  const auto up = static_cast<std::size_t>(power[bin + 1] > lower);
  const auto down = static_cast<std::size_t>(power[bin - 1] > power[bin]);
  return bin + up - (down & ~up);
}

/// A peak of a spectrum.
struct Line {
  double hz = 0;
  double power = 0;  ///< of its strongest bin
};

/// The strongest peak of the band; absent where none stands out of the noise.
std::optional<Line> strongest_line(std::span<const float> power, const Band& band, double noise_power);

/// Fundamental from all harmonics at once; a harmonic's weight is its share of the information on it.
double refined_hz(std::span<const float> power, const Band& band, double f0_hz, double noise_power);

}  // namespace windway
