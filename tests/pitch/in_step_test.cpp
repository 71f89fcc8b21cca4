// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/in_step.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

namespace windway {
namespace {

constexpr double bin_hz = 12.5;
constexpr std::size_t bins = 641;  // to 8 kHz
constexpr double top_hz = 7500.0;
constexpr double hop_s = 0.01;

/// A line whose phase is turned by one of these from frame to frame.
struct Drawn {
  double hz = 0;
  double amplitude = 0;
  std::vector<double> off_rad = {0.0, 0.0, 0.0, 0.0};
};

const std::vector<double> wanders_rad = {0.0, 2.5, -1.4, 1.1};

/// What is said of a strongest line of 1000 Hz with these beside it.
OfEachPart<double> said_of(const std::vector<Drawn>& lines) {
  std::vector<SpectrumFrame> spectra(4);
  std::vector<ToneFrame> frames;
  for (std::size_t i = 0; i < spectra.size(); ++i) {
    const double since_s = hop_s * std::vector{0.0, 5.0, 11.0, 18.0}[i];
    spectra[i].amplitude.assign(bins, 0.0F);
    spectra[i].power.assign(bins, 0.0F);
    for (const Drawn& line : lines) {
      const auto bin = static_cast<std::size_t>(std::lround(line.hz / bin_hz));
      const double phase_rad = 0.3 - 2.0 * std::numbers::pi * line.hz * since_s + line.off_rad[i];
      spectra[i].amplitude[bin] = std::complex<float>(std::polar(line.amplitude, phase_rad));
      spectra[i].power[bin] = static_cast<float>(0.5 * line.amplitude * line.amplitude);
    }
    frames.push_back({&spectra[i], 1000.0, 2.0 * std::numbers::pi * 1000.0 * since_s});
  }
  return log_likelihoods(frames, {}, bin_hz, top_hz, 1e-6);
}

TEST(LogLikelihoods, AHalfWhoseLinesKeepStepIsTheFundamental) {
  const auto said = said_of({{1000.0, 1.0}, {500.0, 0.1}, {1500.0, 0.1}});
  EXPECT_GT(said[1], 1.0);
  for (const std::size_t divisor : {3U, 4U, 5U, 6U}) EXPECT_LT(said[divisor - 1], said[1]) << divisor;
}

TEST(LogLikelihoods, AHalfWhoseLinesWanderIsNone) {
  EXPECT_LT(said_of({{1000.0, 1.0}, {500.0, 0.1, wanders_rad}, {1500.0, 0.1, wanders_rad}})[1], -0.5);
}

TEST(LogLikelihoods, HumAtAFifthIsNoFundamental) { EXPECT_LT(said_of({{1000.0, 1.0}, {200.0, 0.05}})[4], 0.0); }

TEST(LogLikelihoods, AloneAToneSpeaksForNoPart) {
  const auto said = said_of({{1000.0, 1.0}});
  EXPECT_EQ(said[0], 0.0);
  for (std::size_t divisor = 2; divisor <= said.size(); ++divisor) EXPECT_LT(said[divisor - 1], 0.0) << divisor;
}

}  // namespace
}  // namespace windway
