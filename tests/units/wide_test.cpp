// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/wide.hpp"

#include <gtest/gtest.h>

#include <random>
#include <utility>
#include <vector>

#include "pitch/noise_power.hpp"
#include "recording/clipping.hpp"
#include "recording/decimate.hpp"

namespace windway {
namespace {

std::vector<float> noise(std::size_t count) {
  std::mt19937 random(7);
  std::normal_distribution<float> normal;
  std::vector<float> samples(count);
  for (float& sample : samples) sample = normal(random);
  return samples;
}

/// Registers of a width that this processor has, for one test.
class EveryWidth : public testing::TestWithParam<std::size_t> {
 protected:
  void SetUp() override {
    if (GetParam() > widest_) GTEST_SKIP() << "this processor has none so wide";
  }
  void TearDown() override { register_bytes() = widest_; }

  /// What `work` gives in registers of the test's width, and in those that every processor has.
  template <class Work>
  auto here_and_in_narrow(Work work) {
    register_bytes() = GetParam();
    auto here = work();
    register_bytes() = 16;
    return std::pair(here, work());
  }

 private:
  std::size_t widest_ = register_bytes();
};
INSTANTIATE_TEST_SUITE_P(InWidest, EveryWidth, testing::Values(16, 32));

TEST_P(EveryWidth, DecimatesToTheSameBits) {
  for (const int factor : {2, 3, 6}) {
    const auto [here, narrow] = here_and_in_narrow([factor] {
      std::vector<float> out;
      Decimator decimator(factor);
      decimator.process(noise(10000), out);
      decimator.finish(out);
      return out;
    });
    EXPECT_EQ(here, narrow) << factor;
  }
}

TEST_P(EveryWidth, FindsTheSameNoiseToTheBit) {
  std::vector<float> power = noise(400);
  for (float& p : power) p *= p;
  for (const std::size_t to : {100U, 317U, 398U}) {
    const auto [here, narrow] = here_and_in_narrow([&] { return noise_power_in(power, {20.0, 34, to}); });
    EXPECT_EQ(here, narrow) << to;
  }
}

TEST_P(EveryWidth, FindsTheSameExtremes) {
  for (const std::size_t count : {5U, 16U, 49U, 5000U}) {
    const auto [here, narrow] = here_and_in_narrow([count] {
      ClippedRuns runs(0.0);
      runs.add(noise(count));
      return std::pair(runs.peak(), runs.half_range());
    });
    EXPECT_EQ(here, narrow) << count;
  }
}

}  // namespace
}  // namespace windway
