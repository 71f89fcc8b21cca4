// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "holds/holds.hpp"
#include "support/find_holds.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

/// Three seconds of a lone sine between seconds of silence, rounded to `bits` bits (0: not at all).
std::vector<float> lone_sine(double hz, double rate_hz, int bits) {
  std::vector<float> samples(static_cast<std::size_t>(5.0 * rate_hz), 0.0F);
  const double steps = std::ldexp(1.0, bits - 1);
  for (auto i = static_cast<std::size_t>(rate_hz); i < static_cast<std::size_t>(4.0 * rate_hz); ++i) {
    const double value = 0.5 * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz);
    samples[i] = static_cast<float>(bits > 0 ? std::round(value * steps) / steps : value);
  }
  return samples;
}

// Where a tone has no harmonics, its own side lobes and the rounding stand in their places: they must not count.
TEST(FindHolds, MeasuresALoneSineWithoutNoiseToAThousandthOfACent) {
  for (const double rate_hz : {8000.0, 14700.0, 16000.0}) {
    for (const double hz : {196.3, 293.7, 440.4, 587.33, 880.7, 1760.3, 2349.3}) {
      for (const int bits : {0, 8, 16}) {
        const auto holds = find_holds(track_pitch(lone_sine(hz, rate_hz, bits), rate_hz, {}), {});
        ASSERT_EQ(holds.size(), 1U) << hz << " Hz at " << rate_hz << " Hz, " << bits << " bits";
        const double error_cents = cents_between(hz, holds[0].frequency_hz);
        EXPECT_NEAR(error_cents, 0.0, bits == 8 ? 0.02 : 0.001)
            << hz << " Hz at " << rate_hz << " Hz, " << bits << " bits";
        EXPECT_LE(std::abs(error_cents), holds[0].frequency_u95_cents + 1e-4);
      }
    }
  }
}

}  // namespace
}  // namespace windway
