// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>

#include "pitch/spectrum.hpp"

namespace windway {

/// Of the working rate: above it the rate change has its slope.
inline constexpr double band_share = 0.46;

/// -140 dB: below any converter's floor.
inline constexpr float silence_power = 1e-14F;

/// Part of a spectrum.
struct Band {
  double bin_hz = 0;
  std::size_t from = 0;
  std::size_t to = 0;  // one past the last
};

/// The bins from `from_hz` to `to_hz` that hold sound: none above the slope of the rate change.
Band band_of(const SpectrumFrame& spectrum, double bin_hz, double from_hz, double to_hz);

/// Sum of the powers of bins `from` to before `to`.
double sum_of(std::span<const float> power, std::size_t from, std::size_t to);

/// Mean power of the noise in a bin: that of the bins no stronger than noise would be, found from the quietest part of
/// the band upwards; silence_power at least.
double noise_power_in(std::span<const float> power, const Band& band);

}  // namespace windway
