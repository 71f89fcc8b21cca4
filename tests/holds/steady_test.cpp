// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/steady.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

/// A piece a quarter of a second long with these levels, one a frame; its pitch stands still.
std::optional<SteadyPart> steady_part_of(const std::vector<double>& level_db) {
  const FrameSeries series{.hop_s = 0.01,
                           .cents = std::vector<std::optional<double>>(level_db.size(), 0.0),
                           .level_db = level_db,
                           .noise_db = std::vector<double>(level_db.size(), -90.0),
                           .quiet_noise_db = -100.0};
  return steady_part(series, {{{0, level_db.size() - 1}}});
}

TEST(SteadyPart, OfAShortNoteIsMostOfIt) {
  const auto part = steady_part_of(std::vector<double>(25, -25.0));
  ASSERT_TRUE(part);
  EXPECT_GE(part->spans.front().frames(), 12U);
}

TEST(SteadyPart, TheWayIntoASoftNoteThroughTheEchoOfALoudOneHasNone) {
  // As read in a church with a reverberation time of 1.2 s: the echo lends the note 10 dB for 50 ms.
  EXPECT_FALSE(
      steady_part_of({-25.4, -25.6, -25.7, -25.7, -25.8, -25.9, -26.4, -27.2, -28.1, -29.4, -31.2, -33.2, -34.2,
                      -34.5, -34.5, -34.5, -34.7, -34.8, -35.1, -35.7, -36.5, -36.9, -36.9, -36.9, -36.5}));
}

}  // namespace
}  // namespace windway
