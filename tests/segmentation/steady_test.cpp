// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/steady.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway {
namespace {

FrameSeries series_of_levels(const std::vector<double>& level_db) {
  return {.hop_s = 0.01,
          .window_s = 0.048,
          .cents = std::vector<std::optional<double>>(level_db.size(), 0.0),
          .level_db = level_db,
          .noise_db = std::vector<double>(level_db.size(), -90.0),
          .quiet_noise_db = -100.0};
}

/// A piece with these levels, one a frame; its pitch stands still.
std::optional<SteadyPart> steady_part_of(const std::vector<double>& level_db) {
  return steady_part(series_of_levels(level_db), {{{0, level_db.size() - 1}}});
}

TEST(SteadyPart, OfAShortNoteIsMostOfIt) {
  const auto part = steady_part_of(std::vector<double>(25, -25.0));
  ASSERT_TRUE(part);
  EXPECT_GE(part->spans.front().frames(), 12U);
}

TEST(SteadyPart, BeginsWhereLevelAndPitchHaveSettled) {
  // A level that rises for 60 ms, and one that has done so while the pitch still settles.
  std::vector<double> rising(100, -25.0);
  for (std::size_t k = 0; k < 6; ++k) rising[k] = -25.0 - 4.0 * static_cast<double>(6 - k);
  const auto by_level = steady_part_of(rising);
  ASSERT_TRUE(by_level);
  EXPECT_GE(by_level->spans.front().first, 6U);
  FrameSeries scooped = series_of_levels(std::vector<double>(100, -25.0));
  for (std::size_t k = 0; k < 10; ++k) scooped.cents[k] = -40.0 * std::exp(-static_cast<double>(k) / 3.0);
  const auto by_pitch = steady_part(scooped, {{{0, 99}}});
  ASSERT_TRUE(by_pitch);
  EXPECT_GE(by_pitch->spans.front().first, 10U);
}

}  // namespace
}  // namespace windway
