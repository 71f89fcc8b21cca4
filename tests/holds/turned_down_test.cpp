// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "played_tone.hpp"
#include "support/tones.hpp"

namespace windway::test {
namespace {

bool any_turned_down(const std::vector<Stretch>& stretches) {
  const auto holds = holds_in(played({}, stretches, 8), synthesis::tone_rate_hz);
  EXPECT_FALSE(holds.empty());
  return std::any_of(holds.begin(), holds.end(), [](const Hold& h) { return h.turned_down; });
}

TEST(TurnedDown, AToneThatGoesOnFarSofterAtTheVeryPitchIsAFiltersDoing) {
  EXPECT_TRUE(any_turned_down({{0.9}, {0.6, 0.0, 0.05}}));
  EXPECT_TRUE(any_turned_down({{0.8}, {0.1, 0.0, 0.4}, {0.1, 0.0, 0.1}, {0.5, 0.0, 0.03}}));
}

TEST(TurnedDown, ASofterBlowIsFlatter) { EXPECT_FALSE(any_turned_down({{0.9}, {0.7, -15.0, 0.2}})); }

TEST(TurnedDown, AnEchoGoesOnFalling) {
  EXPECT_FALSE(any_turned_down({{0.6}, {0.1, 0.0, 0.3}, {0.1, 0.0, 0.1}, {0.1, 0.0, 0.03}, {0.1, 0.0, 0.01}}));
}

TEST(TurnedDown, AHoldThatSimplyEndsIsNot) { EXPECT_FALSE(any_turned_down({{0.8}})); }

}  // namespace
}  // namespace windway::test
