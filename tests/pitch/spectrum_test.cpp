// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/spectrum.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <vector>

namespace windway {
namespace {

constexpr std::size_t length_samples = 960;
constexpr double full_turn_rad = 2.0 * std::numbers::pi;

/// Spectrum of a lone cosine at `bin` whose phase at the middle of the window is `phase_rad`.
SpectrumFrame spectrum_of_tone(double bin, double amplitude, double phase_rad) {
  std::vector<float> samples(length_samples);
  for (std::size_t i = 0; i < length_samples; ++i) {
    const double turns = bin * (static_cast<double>(i) / static_cast<double>(length_samples) - 0.5);
    samples[i] = static_cast<float>(amplitude * std::cos(full_turn_rad * turns + phase_rad));
  }
  Spectrum spectrum(length_samples);
  SpectrumFrame frame;
  spectrum.transform(samples, frame);
  return frame;
}

TEST(Spectrum, AToneOnABinShowsItsAmplitudeAndItsPower) {
  const SpectrumFrame frame = spectrum_of_tone(40.0, 0.3, 0.7);
  ASSERT_EQ(frame.power.size(), length_samples / 2 + 1);
  EXPECT_NEAR(std::abs(frame.amplitude[40]), 0.3, 1e-5);
  EXPECT_NEAR(frame.power[40], 0.3 * 0.3 / 2.0, 1e-5);
  EXPECT_NEAR(frame.power[100], 0.0, 1e-10);
}

TEST(Spectrum, PhaseIsThatAtTheMiddleOfTheWindowInEveryBinOfTheLobe) {
  for (const double phase_rad : {-3.0, -1.2, 0.0, 0.4, 2.9}) {
    for (const double bin : {39.6, 40.0, 40.3}) {
      const SpectrumFrame frame = spectrum_of_tone(bin, 0.5, phase_rad);
      for (const std::size_t k : {39U, 40U, 41U}) {
        EXPECT_NEAR(std::remainder(std::arg(frame.amplitude[k]) - phase_rad, full_turn_rad), 0.0, 1e-3)
            << "bin " << k << ", tone at " << bin;
      }
    }
  }
}

TEST(Spectrum, SilenceHasNoPower) {
  const SpectrumFrame frame = spectrum_of_tone(40.0, 0.0, 0.0);
  for (const float power : frame.power) EXPECT_EQ(power, 0.0F);
}

/// The windowed samples' Fourier sum itself, phases about the middle of the window.
std::complex<double> fourier_sum(const std::vector<float>& samples, std::size_t bin) {
  const auto n = static_cast<double>(samples.size());
  std::complex<double> sum = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double turn_rad = full_turn_rad * static_cast<double>(i) / n;
    const double weighted = static_cast<double>(samples[i]) * 2.0 / n * (1.0 - std::cos(turn_rad));
    sum += weighted * std::polar(1.0, -static_cast<double>(bin) * (turn_rad - std::numbers::pi));
  }
  return sum;
}

TEST(Spectrum, IsTheFourierSumInEveryBinForEveryLength) {
  std::mt19937 random(5);
  std::uniform_real_distribution<float> sample(-1.0F, 1.0F);
  for (const std::size_t length : {8U, 10U, 12U, 14U, 30U, 768U}) {
    std::vector<float> samples(length);
    for (float& s : samples) s = sample(random);
    Spectrum spectrum(length);
    SpectrumFrame frame;
    spectrum.transform(samples, frame);
    ASSERT_EQ(frame.amplitude.size(), length / 2 + 1);
    for (std::size_t k = 0; k <= length / 2; ++k) {
      const auto sum = std::complex<float>(fourier_sum(samples, k));
      EXPECT_NEAR(std::abs(frame.amplitude[k] - sum), 0.0, 1e-6) << "bin " << k << " of " << length;
      EXPECT_NEAR(frame.power[k], 0.5 * std::norm(sum), 1e-6) << "bin " << k << " of " << length;
    }
  }
}

TEST(HannLobe, IsTheShareOfATonesAmplitudeThatABinBesideItShows) {
  for (double offset_bins = -1.75; offset_bins <= 1.75; offset_bins += 0.125) {
    const SpectrumFrame frame = spectrum_of_tone(60.0 + offset_bins, 1.0, 0.3);
    EXPECT_NEAR(std::abs(frame.amplitude[60]), hann_lobe(offset_bins), 1e-4) << offset_bins;
  }
}

// The Hann window's transform is the sum of three: 1 and twice a half, one bin either side, so the neighbour of a tone
// on a bin is 6.02 dB down and the next but one is zero (F. J. Harris, Proc. IEEE 66 (1978) 51, table 1; from memory).
TEST(HannLobe, IsAHalfOneBinAwayAndNothingTwoBinsAway) {
  EXPECT_DOUBLE_EQ(hann_lobe(0.0), 1.0);
  EXPECT_NEAR(hann_lobe(1.0), 0.5, 1e-9);
  EXPECT_NEAR(hann_lobe(-1.0), 0.5, 1e-9);
  EXPECT_NEAR(hann_lobe(2.0), 0.0, 1e-9);
  // Scalloping loss: 1.42 dB half a bin away (the same table; from memory).
  EXPECT_NEAR(20.0 * std::log10(hann_lobe(0.5)), -1.42, 0.005);
}

TEST(HannPeakOffset, IsExactForALoneTone) {
  for (double offset_bins = -0.5; offset_bins <= 0.5; offset_bins += 0.0625) {
    const SpectrumFrame frame = spectrum_of_tone(100.0 + offset_bins, 0.4, 1.1);
    EXPECT_NEAR(hann_peak_offset_bins(frame.power[99], frame.power[100], frame.power[101]), offset_bins, 2e-5);
  }
}

TEST(HannPeakOffset, StaysWithinHalfABinWhateverThePowers) {
  EXPECT_EQ(hann_peak_offset_bins(0.0, 1.0, 0.0), 0.0);
  EXPECT_EQ(hann_peak_offset_bins(0.0, 1.0, 1.0), 0.5);
  EXPECT_EQ(hann_peak_offset_bins(1.0, 1.0, 0.5), -0.5);
}

TEST(FastLength, IsTheNextEvenLengthWithSmallPrimeFactors) {
  EXPECT_EQ(fast_length_samples(384), 384U);  // 2^7 * 3
  EXPECT_EQ(fast_length_samples(705), 720U);  // 706 to 718 all hold a larger prime
  EXPECT_EQ(fast_length_samples(1058), 1080U);
  EXPECT_EQ(fast_length_samples(1151), 1152U);
  EXPECT_EQ(fast_length_samples(1), 2U);
}

}  // namespace
}  // namespace windway
