// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/undertone.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "pitch/explained.hpp"

namespace windway {
namespace {

constexpr double bin_hz = 12.5;
constexpr std::size_t bins = 641;  // to 8 kHz
constexpr double hop_s = 0.01;

/// A line whose phase swings by `off_rad` either way from frame to frame.
struct Line {
  double hz = 0;
  double amplitude = 0;
  double off_rad = 0;
};

double undertone_of(double heard_hz, const std::vector<Line>& lines) {
  std::vector<SpectrumFrame> spectra(30);
  std::vector<HeardFrame> frames;
  for (std::size_t i = 0; i < spectra.size(); ++i) {
    spectra[i].amplitude.assign(bins, 0.0F);
    spectra[i].power.assign(bins, 0.0F);
    for (const Line& line : lines) {
      const double phase_rad = 2.0 * std::numbers::pi * line.hz * hop_s * static_cast<double>(i) +
                               (i % 2 == 0 ? line.off_rad : -line.off_rad);
      spectra[i].amplitude[static_cast<std::size_t>(std::lround(line.hz / bin_hz))] =
          std::complex<float>(std::polar(line.amplitude, phase_rad));
    }
    frames.push_back({&spectra[i], heard_hz, 1e-12});
  }
  return undertone(frames, {bin_hz, hop_s});
}

constexpr double noise_off_rad = 0.46;  // keeps 0.8 of the power in step, as noise may by chance over a short note

TEST(Undertone, BoreNoiseAtAQuarterOfTheSecondHarmonicIsNoFundamental) {
  // A fundamental at 1750 Hz is heard at its second harmonic; the bore rings at its half and three halves.
  const std::vector<Line> lines = {
      {3500.0, 1.0}, {1750.0, 0.3}, {875.0, 0.2, noise_off_rad}, {2625.0, 0.2, noise_off_rad}};
  EXPECT_EQ(undertone_of(3500.0, lines), 0.5);
}

TEST(Undertone, AFundamentalHeardAtItsFourthHarmonicIsFound) {
  const std::vector<Line> lines = {{3500.0, 1.0},
                                   {1750.0, 0.3},
                                   {875.0, 0.2, noise_off_rad},
                                   {2625.0, 0.2, noise_off_rad},
                                   {4375.0, 0.1, noise_off_rad}};
  EXPECT_EQ(undertone_of(3500.0, lines), 0.25);
}

TEST(FundamentalHz, APartOfAPeaksPitchMustExplainMoreThanThePeak) {
  // 500 Hz, most of its power in the fifth harmonic; a little noise stands at three quarters of that.
  std::vector<float> power(bins, 0.0F);
  const auto add_line = [&](std::size_t bin, float line_power) {
    power[bin] += line_power;
    for (const std::size_t beside : {bin - 1, bin + 1}) power[beside] += 0.25F * line_power;
  };
  add_line(200, 0.855F);
  for (const std::size_t bin : {40U, 80U, 120U}) add_line(bin, 0.145F / 3.0F);
  add_line(150, 0.01F);
  EXPECT_NEAR(*fundamental_hz(power, {bin_hz, 2, 600}, 1e-6), 500.0, 1.0);
}

}  // namespace
}  // namespace windway
