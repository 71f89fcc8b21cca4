// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/noise_power.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "units/four.hpp"

namespace windway {

namespace {

// Noise power in a bin is exponential: 2 % lies above noise_most times its mean, and the mean of the rest is
// 1 - 4 / (e^4 - 1) of the whole mean.
constexpr double noise_most = 4.0;
constexpr double mean_of_most = 0.92537;

/// Mean of the powers up to a limit; the last few do not matter. Several sums side by side: none waits for another's
/// addition.
double mean_up_to(std::span<const float> power, float limit) {
  constexpr std::size_t beside = 4;
  std::array<Four, beside> sums{};
  std::array<FourTruths, beside> counts{};
  const Four limits = Four{} + limit;
  const auto add = [&](std::size_t k, std::size_t to) {
    const Four here = four_at(&power[k]);
    const FourTruths under = here <= limits;  // true is -1
    sums[to] += under ? here : Four{};
    counts[to] -= under;
  };
  std::size_t k = 0;
  for (; k + 4 * beside <= power.size(); k += 4 * beside)
    for (std::size_t i = 0; i < beside; ++i) add(k + 4 * i, i);
  for (; k + 4 <= power.size(); k += 4) add(k, 0);
  const FourTruths count = (counts[0] + counts[1]) + (counts[2] + counts[3]);
  const auto counted = static_cast<float>((count[0] + count[1]) + (count[2] + count[3]));
  return total((sums[0] + sums[1]) + (sums[2] + sums[3])) / std::max(1.0F, counted);
}

/// The lower quartile of twelve numbers.
double lower_quartile(const std::array<double, 12>& values) {
  std::array<double, 4> lowest;
  lowest.fill(std::numeric_limits<double>::infinity());
  for (double value : values) {
    for (double& low : lowest) {
      const double lower = std::min(low, value);
      value = std::max(low, value);
      low = lower;
    }
  }
  return lowest.back();
}

}  // namespace

Band band_of(const SpectrumFrame& spectrum, double bin_hz, double from_hz, double to_hz) {
  const auto bins = spectrum.power.size();
  const auto last = static_cast<std::size_t>(2.0 * band_share * static_cast<double>(bins - 1));
  return {bin_hz, std::max<std::size_t>(2, static_cast<std::size_t>(std::ceil(from_hz / bin_hz))),
          std::min({last, static_cast<std::size_t>(to_hz / bin_hz), bins - 2}) + 1};
}

double sum_of(std::span<const float> power, std::size_t from, std::size_t to) {
  std::array<Four, 4> sums{};
  std::size_t k = from;
  for (; k + 16 <= to; k += 16) {
    for (std::size_t beside = 0; beside < 4; ++beside) sums[beside] += four_at(&power[k + 4 * beside]);
  }
  for (; k + 4 <= to; k += 4) sums[0] += four_at(&power[k]);
  float sum = total((sums[0] + sums[1]) + (sums[2] + sums[3]));
  for (; k < to; ++k) sum += power[k];
  return sum;
}

double noise_power_in(std::span<const float> power, const Band& band) {
  std::array<double, 12> parts{};
  const std::size_t length = (band.to - band.from) / parts.size();
  if (length == 0) return silence_power;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    parts[p] = sum_of(power, band.from + p * length, band.from + (p + 1) * length);
  }
  double mean = lower_quartile(parts) / static_cast<double>(length);
  for (int round = 0; round < 6; ++round) {
    const double before = mean;
    const auto limit = static_cast<float>(noise_most * mean);
    mean = mean_up_to(power.subspan(band.from, band.to - band.from), limit) / mean_of_most;
    if (std::abs(mean - before) < 1e-6 * before) break;
  }
  return std::max(mean, static_cast<double>(silence_power));
}

}  // namespace windway
