// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/noise_power.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "units/four.hpp"

namespace windway {

namespace {

// Noise power in a bin is exponential: 2 % lies above noise_most times its mean, and the mean of the rest is
// 1 - 4 / (e^4 - 1) of the whole mean.
constexpr double noise_most = 4.0;
constexpr double mean_of_most = 0.92537;

/// Mean of the powers up to a limit; the last few of the band do not matter. Several sums side by side: none waits for
/// another's addition.
double mean_up_to(std::span<const float> power, const Band& band, float limit) {
  constexpr std::size_t sums_beside = 4;
  const Four limits{limit, limit, limit, limit};
  const Four none{};
  std::array<Four, sums_beside> sums{};
  std::array<FourTruths, sums_beside> counts{};
  const auto take = [&](std::size_t beside, std::size_t k) {
    const Four four = four_at(&power[k]);
    sums[beside] += four <= limits ? four : none;
    counts[beside] -= four <= limits;  // true is -1
  };
  std::size_t k = band.from;
  for (; k + 4 * sums_beside <= band.to; k += 4 * sums_beside) {
    for (std::size_t beside = 0; beside < sums_beside; ++beside) take(beside, k + 4 * beside);
  }
  for (; k + 4 <= band.to; k += 4) take(0, k);
  const FourTruths count = (counts[0] + counts[1]) + (counts[2] + counts[3]);
  const auto counted = static_cast<float>((count[0] + count[1]) + (count[2] + count[3]));
  return total((sums[0] + sums[1]) + (sums[2] + sums[3])) / std::max(1.0F, counted);
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
  constexpr std::size_t parts = 12;
  const std::size_t length = (band.to - band.from) / parts;
  if (length == 0) return silence_power;
  std::array<double, parts> means{};
  for (std::size_t p = 0; p < parts; ++p) {
    means[p] = sum_of(power, band.from + p * length, band.from + (p + 1) * length) / static_cast<double>(length);
  }
  std::sort(means.begin(), means.end());
  double mean = means[parts / 4];
  for (int round = 0; round < 6; ++round) {
    const double before = mean;
    mean = mean_up_to(power, band, static_cast<float>(noise_most * mean)) / mean_of_most;
    if (std::abs(mean - before) < 1e-6 * before) break;
  }
  return std::max(mean, static_cast<double>(silence_power));
}

}  // namespace windway
