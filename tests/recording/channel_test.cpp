// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/channel.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "written_file.hpp"

namespace windway {
namespace {

using test::interleave;
using test::noise;
using test::sine;

constexpr int rate_hz = 48000;
constexpr double length_s = 3.0;

std::vector<float> tone(double amplitude) { return sine(587.33, amplitude, rate_hz, length_s); }
std::vector<float> hiss(double amplitude, unsigned seed) {
  return noise(amplitude, static_cast<std::size_t>(length_s * rate_hz), seed);
}

std::vector<float> sum(std::vector<float> a, const std::vector<float>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] += b[i];
  return a;
}

int chosen(const std::vector<std::vector<float>>& channels, int rate = rate_hz) {
  ChannelJudge judge(static_cast<int>(channels.size()), rate, 0.0);
  const std::vector<float> all = interleave(channels);
  const std::size_t block = judge.block_frames() * channels.size();
  for (std::size_t from = 0; from + block <= all.size(); from += block) {
    judge.add(std::span<const float>(all).subspan(from, block));
  }
  return judge.best();
}

TEST(ChannelJudge, PassesOverADeadMicrophonesNoise) {
  EXPECT_EQ(chosen({hiss(0.0001, 1), sum(tone(0.1), hiss(0.001, 2))}), 1);
  EXPECT_EQ(chosen({sum(tone(0.1), hiss(0.001, 2)), hiss(0.0001, 1)}), 0);
}

TEST(ChannelJudge, PassesOverLoudNoise) { EXPECT_EQ(chosen({hiss(0.3, 1), sum(tone(0.1), hiss(0.001, 2))}), 1); }

TEST(ChannelJudge, PassesOverAnOffset) {
  EXPECT_EQ(chosen({std::vector<float>(static_cast<std::size_t>(length_s * rate_hz), 0.9f), tone(0.01)}), 1);
}

TEST(ChannelJudge, PassesOverHumOfFiftyAndSixtyHertz) {
  for (const double mains_hz : {50.0, 60.0}) {
    std::vector<float> hum = sine(mains_hz, 0.8, rate_hz, length_s);
    for (const int harmonic : {2, 3, 5}) hum = sum(hum, sine(mains_hz * harmonic, 0.1 / harmonic, rate_hz, length_s));
    EXPECT_EQ(chosen({hum, sum(tone(0.05), hiss(0.001, 2))}), 1) << mains_hz;
  }
}

TEST(ChannelJudge, PrefersAWholeChannelToOneClippedToDeath) {
  std::vector<float> clipped = tone(20.0);
  for (float& sample : clipped) sample = std::clamp(sample, -1.0f, 1.0f);
  EXPECT_EQ(chosen({clipped, sum(tone(0.1), hiss(0.001, 2))}), 1);
}

TEST(ChannelJudge, TakesAClippedChannelWhereTheOtherIsDead) {
  std::vector<float> clipped = tone(20.0);
  for (float& sample : clipped) sample = std::clamp(sample, -1.0f, 1.0f);
  EXPECT_EQ(chosen({hiss(0.0001, 1), clipped}), 1);
}

TEST(ChannelJudge, PrefersTheCleanerOfTwoAsLoud) {
  EXPECT_EQ(chosen({sum(tone(0.1), hiss(0.1, 1)), sum(tone(0.1), hiss(0.01, 2))}), 1);
}

TEST(ChannelJudge, TakesTheLouderOfTwoAsCleanAndTheFirstOfTwoAlike) {
  EXPECT_EQ(chosen({tone(0.1), tone(0.3)}), 1);
  EXPECT_EQ(chosen({tone(0.1), tone(0.105)}), 0);  // 0.4 dB
  EXPECT_EQ(chosen({tone(0.105), tone(0.1)}), 0);
}

TEST(ChannelJudge, FindsTheOneLiveChannelOfManyAtEveryRate) {
  for (const int rate : {8000, 44100, 192000}) {
    std::vector<std::vector<float>> channels;
    const auto length = static_cast<std::size_t>(rate);
    for (unsigned c = 0; c < 8; ++c) channels.push_back(noise(0.001, length, c));
    channels[5] = sum(channels[5], sine(1046.5, 0.1, rate, 1.0));
    EXPECT_EQ(chosen(channels, rate), 5) << rate;
  }
}

TEST(ChannelJudge, TakesTheFirstWhereAllIsSilent) {
  EXPECT_EQ(chosen({std::vector<float>(48000, 0.0f), std::vector<float>(48000, 0.0f)}), 0);
  EXPECT_EQ(ChannelJudge(2, rate_hz, 0.0).best(), 0);
}

}  // namespace
}  // namespace windway
