// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/clipping.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "written_file.hpp"

namespace windway {
namespace {

using test::noise;
using test::sine;

std::vector<float> limited(std::vector<float> samples, float low, float high) {
  for (float& sample : samples) sample = std::clamp(sample, low, high);
  return samples;
}

double share_of(const std::vector<float>& samples, double step = 0.0) {
  ClippedRuns clipping(step);
  clipping.add(samples);
  return clipping.share();
}

// Rounds as a converter of `bits` does.
std::vector<float> rounded(std::vector<float> samples, int bits) {
  const auto scale = static_cast<float>(1 << (bits - 1));
  for (float& sample : samples) sample = std::round(sample * scale) / scale;
  return samples;
}

TEST(ClippedRuns, DoesNotCallALoudSineClippedAtAnyPitch) {
  for (const double hz : {110.0, 293.7, 587.3, 1175.0, 2349.0, 4186.0}) {
    for (const double rate_hz : {22050.0, 48000.0, 192000.0}) {
      EXPECT_EQ(share_of(sine(hz, 1.0, rate_hz, 1.0)), 0.0) << hz << " at " << rate_hz;
    }
  }
}

TEST(ClippedRuns, DoesNotCallEightBitStepsClipped) {
  for (const double hz : {110.0, 293.7, 587.3, 1175.0}) {
    EXPECT_EQ(share_of(rounded(sine(hz, 0.8, 48000, 1.0), 8), 1.0 / 128), 0.0) << hz;
  }
}

// A sine driven to twice full scale stands above it for 2 acos(1/2) / pi = 2/3 of the time.
TEST(ClippedRuns, CountsTheFlatTops) {
  EXPECT_NEAR(share_of(limited(sine(441.3, 2.0, 48000, 1.0), -1, 1)), 2.0 / 3, 0.03);
  EXPECT_NEAR(share_of(limited(sine(1741.3, 2.0, 48000, 1.0), -1, 1)), 2.0 / 3, 0.06);
}

TEST(ClippedRuns, CountsOneSidedClippingBesideAnOffset) {
  std::vector<float> samples = sine(441.3, 1.0, 48000, 1.0);
  for (float& sample : samples) sample += 0.3f;
  EXPECT_NEAR(share_of(limited(samples, -1, 1)), std::acos(0.7) / 3.14159265, 0.03);
}

TEST(ClippedRuns, SeesClippingBelowFullScaleUnderALittleNoise) {
  std::vector<float> samples = limited(sine(441.3, 1.2, 48000, 1.0), -0.6f, 0.6f);
  const std::vector<float> room = noise(0.0008, samples.size(), 3);
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] += room[i];
  EXPECT_GT(share_of(samples), 0.5);
}

TEST(ClippedRuns, DoesNotCallSilenceOrAnOffsetClipped) {
  EXPECT_EQ(share_of(std::vector<float>(48000, 0.0f)), 0.0);
  EXPECT_EQ(share_of(std::vector<float>(48000, 0.7f)), 0.0);
  EXPECT_EQ(share_of({}), 0.0);
}

TEST(ClippedRuns, ForgetsPlateausThatALaterSampleRisesAbove) {
  std::vector<float> samples = limited(sine(441.3, 1.0, 48000, 0.5), -0.5f, 0.5f);
  const std::vector<float> louder = sine(441.3, 0.9, 48000, 0.5);
  samples.insert(samples.end(), louder.begin(), louder.end());
  EXPECT_EQ(share_of(samples), 0.0);
}

TEST(ClippedRuns, GivesPeakAndHalfRange) {
  ClippedRuns clipping;
  clipping.add(std::vector<float>{0.1f, -0.6f, 0.4f});
  EXPECT_FLOAT_EQ(static_cast<float>(clipping.peak()), 0.6f);
  EXPECT_FLOAT_EQ(static_cast<float>(clipping.half_range()), 0.5f);
}

}  // namespace
}  // namespace windway
