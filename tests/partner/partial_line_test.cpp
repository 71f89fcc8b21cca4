// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/partial_line.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "support/random.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

constexpr double rate_hz = 24000.0;

std::vector<float> decaying(double hz, double decay_s, double length_s, double noise, synthesis::Random& random) {
  std::vector<float> samples;
  for (int i = 0; i < static_cast<int>(length_s * rate_hz); ++i) {
    const double t_s = i / rate_hz;
    samples.push_back(
        static_cast<float>(0.2 * std::exp(-t_s / decay_s) * std::sin(2.0 * std::numbers::pi * hz * t_s + 0.4) +
                           random.normal(0.0, noise)));
  }
  return samples;
}

PartialStretch whole(const std::vector<float>& samples) {
  return {samples, rate_hz, 0.0, static_cast<double>(samples.size()) / rate_hz};
}

TEST(MeasurePartial, FindsALineThatDiesAwayWithinWhatItStates) {
  synthesis::Random random(7);
  int held = 0;
  constexpr int lines = 300;
  for (int i = 0; i < lines; ++i) {
    const double hz = random.uniform(350.0, 3000.0);
    const auto samples = decaying(hz, random.uniform(0.2, 2.0), random.uniform(0.6, 2.5), 0.01, random);
    const auto line = measure_partial(whole(samples), hz + random.uniform(-1.0, 1.0), 300.0);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->hz, hz, 0.15);
    held += std::abs(line->hz - hz) <= 1.96 * line->sd_hz ? 1 : 0;
  }
  EXPECT_GE(100.0 * held / lines, 92.0);
}

TEST(MeasurePartial, TellsTwoReedsApartAndTakesTheMiddle) {
  synthesis::Random random(8);
  std::vector<float> samples = decaying(438.0, 1e9, 2.0, 0.001, random);
  const std::vector<float> other = decaying(442.0, 1e9, 2.0, 0.001, random);
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] += 0.8F * other[i];
  const auto line = measure_partial(whole(samples), 439.0, 400.0);
  ASSERT_TRUE(line && line->split);
  EXPECT_NEAR(line->split->middle_hz, 440.0, 0.02);
  EXPECT_NEAR(line->split->apart_hz, 4.0, 0.04);
  EXPECT_TRUE(line->split->is_pair);
}

TEST(MeasurePartial, FindsNoReedsInOneLine) {
  synthesis::Random random(9);
  const auto line = measure_partial(whole(decaying(440.0, 0.4, 2.0, 0.01, random)), 440.5, 400.0);
  ASSERT_TRUE(line);
  EXPECT_FALSE(line->split);
}

TEST(MeasurePartial, GivesNothingInSilenceOrForTooShortAStretch) {
  synthesis::Random random(10);
  EXPECT_FALSE(measure_partial(whole(synthesis::silence(rate_hz, 1.0)), 440.0, 400.0));
  const auto samples = decaying(440.0, 1.0, 1.0, 0.0, random);
  EXPECT_FALSE(measure_partial({samples, rate_hz, 0.2, 0.32}, 440.0, 400.0));
  EXPECT_FALSE(measure_partial({samples, rate_hz, 0.8, 0.4}, 440.0, 400.0));
}

}  // namespace
}  // namespace windway
