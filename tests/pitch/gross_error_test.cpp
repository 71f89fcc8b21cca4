// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "pitch/pitch_track.hpp"
#include "support/drawn_holds.hpp"
#include "support/find_holds.hpp"

namespace windway {
namespace {

TEST(TrackPitch, HearsNoneOfHundredsOfDrawnHoldsInAnotherOctaveOrSemitoneAndInventsNone) {
  int found = 0;
  for (std::uint64_t seed = 7001; seed <= 7015; ++seed) {
    const auto take = synthesis::draw_take(seed);
    const auto verdicts = synthesis::judge(take, find_holds(track_pitch(take.samples, take.rate_hz, {}), {}));
    EXPECT_TRUE(verdicts.invented.empty()) << "seed " << seed;
    for (std::size_t i = 0; i < take.holds.size(); ++i) {
      EXPECT_FALSE(verdicts.holds[i].gross())
          << "seed " << seed << ", " << take.holds[i].hz << " Hz, off " << verdicts.holds[i].worst_cents << " cents";
      found += !synthesis::missed(take.holds[i], verdicts.holds[i]);
    }
  }
  EXPECT_GE(found, 297);  // of 300
}

TEST(TrackPitch, ASlipIntoTheOctaveTurnsNoHoldOver) {
  int slips = 0;
  for (const std::uint64_t seed : {950017U, 950112U, 950134U, 950145U, 950219U, 950346U, 950348U}) {
    const auto take = synthesis::draw_take(seed);
    const auto verdicts = synthesis::judge(take, find_holds(track_pitch(take.samples, take.rate_hz, {}), {}));
    for (std::size_t i = 0; i < take.holds.size(); ++i) {
      if (!take.holds[i].slip) continue;
      ++slips;
      EXPECT_FALSE(verdicts.holds[i].gross())
          << "seed " << seed << ", " << take.holds[i].hz << " Hz, off " << verdicts.holds[i].worst_cents << " cents";
    }
  }
  EXPECT_GE(slips, 7);
}

}  // namespace
}  // namespace windway
