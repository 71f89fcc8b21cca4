// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/decimate.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>

#include "units/units.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

using test::noise;
using test::sine;

std::vector<float> decimated(const std::vector<float>& in, int factor, std::size_t block = 4096) {
  Decimator decimator(factor);
  std::vector<float> out;
  for (std::size_t from = 0; from < in.size(); from += block) {
    decimator.process(std::span<const float>(in).subspan(from, std::min(block, in.size() - from)), out);
  }
  decimator.finish(out);
  return out;
}

// Complex amplitude of a sine of frequency `hz` in the middle half of `x`, against sin(2 pi hz t).
std::complex<double> sine_amplitude(const std::vector<float>& x, double hz, double rate_hz) {
  std::complex<double> sum = 0;
  double weights = 0;
  const std::size_t from = x.size() / 4;
  const std::size_t count = x.size() / 2;
  for (std::size_t i = 0; i < count; ++i) {
    const double weight =
        1 - std::cos(2 * std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(count));
    const double angle_rad = 2 * std::numbers::pi * hz * static_cast<double>(from + i) / rate_hz;
    sum += weight * static_cast<double>(x[from + i]) * std::polar(1.0, -angle_rad);
    weights += weight;
  }
  return sum / weights * std::complex<double>(0, 2);
}

TEST(DecimationFactor, LeavesAtLeastFourteenKilohertz) {
  EXPECT_EQ(decimation_factor(8000), 1);
  EXPECT_EQ(decimation_factor(22050), 1);
  EXPECT_EQ(decimation_factor(27999), 1);
  EXPECT_EQ(decimation_factor(28000), 2);
  EXPECT_EQ(decimation_factor(32000), 2);
  EXPECT_EQ(decimation_factor(44100), 3);
  EXPECT_EQ(decimation_factor(48000), 3);
  EXPECT_EQ(decimation_factor(96000), 6);
  EXPECT_EQ(decimation_factor(192000), 13);
}

class EveryFactor : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Decimator, EveryFactor, testing::Values(1, 2, 3, 6, 13));

TEST_P(EveryFactor, PassesWhatLiesBelowFourTenthsOfTheWorkingRate) {
  const int factor = GetParam();
  const double rate_hz = 15000.0 * factor;
  for (const double share : {0.01, 0.05, 0.1, 0.2, 0.3, 0.35, 0.4}) {
    const double hz = share * 15000.0;
    const auto gain = sine_amplitude(decimated(sine(hz, 0.5, rate_hz, 0.5), factor), hz, 15000.0) / 0.5;
    EXPECT_NEAR(db_from_amplitude(std::abs(gain)), 0.0, 0.001) << hz;
  }
}

TEST_P(EveryFactor, KeepsASineOnTheTimeAxis) {
  const int factor = GetParam();
  const double rate_hz = 15000.0 * factor;
  for (const double hz : {311.0, 1234.5, 4186.0, 5900.0}) {
    const auto gain = sine_amplitude(decimated(sine(hz, 0.5, rate_hz, 0.5), factor), hz, 15000.0);
    EXPECT_NEAR(std::arg(gain), 0.0, 1e-5) << hz;
  }
}

TEST_P(EveryFactor, HoldsBackWhatWouldFoldIntoThePassBand) {
  const int factor = GetParam();
  if (factor == 1) return;  // nothing folds
  const double rate_hz = 15000.0 * factor;
  for (const double share : {0.6, 0.65, 0.75, 0.9, 0.99}) {
    const double hz = share * 15000.0;
    const double folded_hz = 15000.0 - hz;
    const auto gain = sine_amplitude(decimated(sine(hz, 0.5, rate_hz, 0.5), factor), folded_hz, 15000.0) / 0.5;
    EXPECT_LT(db_from_amplitude(std::abs(gain)), -85.0) << hz;
  }
}

TEST_P(EveryFactor, GivesTheSameBitsHoweverTheInputIsCut) {
  const std::vector<float> in = noise(0.5, 20000, 1);
  const std::vector<float> whole = decimated(in, GetParam(), in.size());
  for (const std::size_t block : {std::size_t{1}, std::size_t{7}, std::size_t{64}, std::size_t{4096}}) {
    EXPECT_EQ(decimated(in, GetParam(), block), whole) << block;
  }
}

TEST_P(EveryFactor, GivesAnOutputForEveryBegunStep) {
  const auto factor = static_cast<std::size_t>(GetParam());
  for (std::size_t length = 0; length < 40; ++length) {
    EXPECT_EQ(decimated(std::vector<float>(length, 0.1f), GetParam()).size(), (length + factor - 1) / factor) << length;
  }
}

}  // namespace
}  // namespace windway
