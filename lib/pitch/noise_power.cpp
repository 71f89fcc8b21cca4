// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/noise_power.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

namespace windway {

namespace {

// Noise power in a bin is exponential: 2 % lies above noise_most times its mean, and the mean of the rest is
// 1 - 4 / (e^4 - 1) of the whole mean.
constexpr double noise_most = 4.0;
constexpr double mean_of_most = 0.92537;

/// Four numbers in one register: what every x86-64 and its like have.
using Four = float __attribute__((vector_size(16)));

Four four_at(const float* from) {
  Four four;
  std::memcpy(&four, from, sizeof four);
  return four;
}

float total(Four four) { return (four[0] + four[1]) + (four[2] + four[3]); }

/// Mean of the powers up to a limit; the last few of the band do not matter.
double mean_up_to(std::span<const float> power, const Band& band, float limit) {
  const Four limits{limit, limit, limit, limit};
  const Four ones{1.0F, 1.0F, 1.0F, 1.0F};
  const Four none{};
  Four sum{};
  Four count{};
  for (std::size_t k = band.from; k + 4 <= band.to; k += 4) {
    const Four four = four_at(&power[k]);
    sum += four <= limits ? four : none;
    count += four <= limits ? ones : none;
  }
  return total(sum) / std::max(1.0F, total(count));
}

}  // namespace

Band band_of(const SpectrumFrame& spectrum, double bin_hz, double from_hz, double to_hz) {
  const auto bins = spectrum.power.size();
  const auto last = static_cast<std::size_t>(2.0 * band_share * static_cast<double>(bins - 1));
  return {bin_hz, std::max<std::size_t>(2, static_cast<std::size_t>(std::ceil(from_hz / bin_hz))),
          std::min({last, static_cast<std::size_t>(to_hz / bin_hz), bins - 2}) + 1};
}

double sum_of(std::span<const float> power, std::size_t from, std::size_t to) {
  Four even{};
  Four odd{};
  std::size_t k = from;
  for (; k + 8 <= to; k += 8) {
    even += four_at(&power[k]);
    odd += four_at(&power[k + 4]);
  }
  float sum = total(even + odd);
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
