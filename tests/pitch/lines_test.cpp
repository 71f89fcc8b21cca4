// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/lines.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <vector>

namespace windway {
namespace {

constexpr double noise_power = 0.01, least_power = 6.0 * noise_power;

/// Every bin of the band looked at by itself: 0 for none.
double strongest_peak_power(const std::vector<float>& power, const Band& band) {
  auto most = static_cast<float>(least_power);
  for (std::size_t k = band.from; k < band.to; ++k)
    if (power[k] > power[k - 1] && power[k] >= power[k + 1]) most = std::max(most, power[k]);
  return most > static_cast<float>(least_power) ? static_cast<double>(most) : 0.0;
}

TEST(StrongestLine, IsTheStrongestPeakOfTheBandWhateverItsLengthAndWhatIsBesideIt) {
  std::mt19937 random(4);
  std::exponential_distribution<float> level(30.0F);
  for (std::size_t bins = 1; bins < 60; ++bins) {
    for (int draw = 0; draw < 20; ++draw) {
      std::vector<float> power(bins + 4);
      for (float& p : power) p = level(random);
      if (draw % 2 == 0) power[1] = 3.0F, power[2] = 2.0F;  // a slope from outside into the band
      const Band band{1.0, 2, 2 + bins};
      const auto line = strongest_line(power, band, noise_power);
      EXPECT_EQ(line ? line->power : 0.0, strongest_peak_power(power, band)) << bins << " bins";
    }
  }
}

}  // namespace
}  // namespace windway
