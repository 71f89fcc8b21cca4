// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "found_blows.hpp"
#include "played_tone.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using test::holds_in;
using test::played;
using test::PlayedTone;

double off_cents(const Hold& hold, const PlayedTone& tone) { return cents_between(tone.f0_hz, hold.frequency_hz); }

TEST(FindHolds, BridgesACutShorterThanFiftyMilliseconds) {
  for (const double f0_hz : {587.33, 987.77, 1568.0}) {
    for (const double cents : {-200.0, 200.0, 350.0}) {
      for (const double cut_s : {0.02, 0.035, 0.048}) {
        const PlayedTone tone{.f0_hz = f0_hz};
        const auto holds = holds_in(played(tone, {{0.5}, {cut_s, cents}, {0.5}}, 1), synthesis::tone_rate_hz);
        ASSERT_EQ(holds.size(), 1U) << f0_hz << " Hz, " << cents << " cents, " << cut_s << " s";
        EXPECT_TRUE(holds[0].register_break);
        EXPECT_NEAR(off_cents(holds[0], tone), 0.0, 0.05);
      }
    }
  }
}

TEST(FindHolds, BridgesASilenceShorterThanFiftyMilliseconds) {
  for (const double cut_s : {0.02, 0.035, 0.048}) {
    const PlayedTone tone;
    const auto holds = holds_in(played(tone, {{0.5}, {cut_s, 0.0, 0.0}, {0.5}}, 2), synthesis::tone_rate_hz);
    ASSERT_EQ(holds.size(), 1U) << cut_s;
    EXPECT_NEAR(off_cents(holds[0], tone), 0.0, 0.05);
  }
}

TEST(FindHolds, LeavesThirtyMillisecondsEitherSideOfABreakOut) {
  // The break stands from 1.0 to 1.035 s of the take; the smoothed curve must not be bent by it.
  const PlayedTone tone;
  const auto holds = holds_in(played(tone, {{0.5}, {0.035, 300.0}, {0.5}}, 3), synthesis::tone_rate_hz);
  ASSERT_EQ(holds.size(), 1U);
  for (const HoldPoint& point : holds[0].curve) {
    EXPECT_TRUE(point.time_s <= 1.0 - 0.03 || point.time_s >= 1.035 + 0.03) << point.time_s;
    EXPECT_NEAR(cents_between(tone.f0_hz, point.f0_hz), 0.0, 1.0) << point.time_s;
  }
}

TEST(FindHolds, BridgesASlipIntoTheOctave) {
  for (const double f0_hz : {587.33, 880.0}) {
    for (const double slip_s : {0.1, 0.16, 0.18}) {
      const PlayedTone tone{.f0_hz = f0_hz};
      const auto holds = holds_in(played(tone, {{0.5}, {slip_s, 1200.0}, {0.5}}, 4), synthesis::tone_rate_hz);
      ASSERT_EQ(holds.size(), 1U) << f0_hz << " Hz, " << slip_s << " s";
      EXPECT_TRUE(holds[0].register_break);
      EXPECT_NEAR(off_cents(holds[0], tone), 0.0, 0.05);
    }
  }
}

TEST(FindHolds, DoesNotBridgeAGapOfATenthOfASecond) {
  for (const double gap_s : {0.12, 0.15, 0.2}) {
    EXPECT_EQ(holds_in(played({}, {{0.5}, {gap_s, 0.0, 0.0}, {0.5}}, 5), synthesis::tone_rate_hz).size(), 2U) << gap_s;
  }
}

TEST(FindHolds, ANoteWithoutABreakIsNotMarked) {
  const auto holds = holds_in(played({}, {{1.0}}, 6), synthesis::tone_rate_hz);
  ASSERT_EQ(holds.size(), 1U);
  EXPECT_FALSE(holds[0].register_break);
}

TEST(FindHolds, SplitsAStepWithoutAGap) {
  const PlayedTone tone;
  const auto holds = holds_in(played(tone, {{0.5}, {0.5, 100.0}, {0.5, 300.0}}, 7), synthesis::tone_rate_hz);
  ASSERT_EQ(holds.size(), 3U);
  EXPECT_NEAR(off_cents(holds[0], tone), 0.0, 0.05);
  EXPECT_NEAR(off_cents(holds[1], tone), 100.0, 0.05);
  EXPECT_NEAR(off_cents(holds[2], tone), 300.0, 0.05);
}

TEST(FindHolds, AToneShorterThanTheLeastIsNoHold) {
  const auto samples = played({}, {{0.4}, {0.3, 0.0, 0.0}, {0.7, 200.0}}, 8);
  EXPECT_EQ(holds_in(samples, synthesis::tone_rate_hz).size(), 2U);
  EXPECT_EQ(holds_in(samples, synthesis::tone_rate_hz, {.min_hold_s = 0.5}).size(), 1U);
  EXPECT_EQ(holds_in(samples, synthesis::tone_rate_hz, {.min_hold_s = 0.8}).size(), 0U);
  EXPECT_EQ(holds_in(played({}, {{0.2}}, 9), synthesis::tone_rate_hz).size(), 0U);
}

TEST(BlownStretches, SayWhichToneIsTooShortToBeAHold) {
  const auto samples = played({}, {{0.4}, {0.3, 0.0, 0.0}, {0.7, 200.0}}, 8);
  const BlownStretches blown = holds_of_chapter(track_pitch(samples, synthesis::tone_rate_hz, {}), {.min_hold_s = 0.5});
  ASSERT_EQ(blown.holds.size(), 1U);
  ASSERT_EQ(blown.left_out.size(), 1U);
  EXPECT_EQ(blown.left_out[0].why, NotHeld::too_short);
  EXPECT_LE(blown.left_out[0].end_s, blown.holds[0].start_s);
  EXPECT_NEAR(blown.left_out[0].end_s - blown.left_out[0].start_s, 0.4, 0.1);
}

TEST(LeftOutOf, AreThoseThatAreNotAmongTheKept) {
  std::vector<Hold> all(4);
  for (std::size_t hold = 0; hold < all.size(); ++hold) all[hold].start_s = static_cast<double>(hold);
  const std::vector<LeftOut> stretches = stretches_of(all, NotHeld::too_faint);
  const std::vector<LeftOut> out = left_out_of(stretches, {all[1], all[3]});
  ASSERT_EQ(out.size(), 2U);
  EXPECT_EQ(out[0].start_s, 0.0);
  EXPECT_EQ(out[1].start_s, 2.0);
  EXPECT_EQ(out[1].why, NotHeld::too_faint);
  EXPECT_TRUE(left_out_of(stretches, all).empty());
  EXPECT_EQ(left_out_of(stretches, {}).size(), 4U);
}

TEST(FindHolds, ATapInTheMiddleOfABlowLeavesItsPitchAlone) {
  for (const double tap_cents : {-250.0, 150.0, 400.0}) {
    synthesis::Performance performance;
    performance.playing.tap_cents = tap_cents;
    const auto take = test::found_take(test::played_take({74, 78, 81, 86}, {Blow::soft, Blow::hard}, performance, 21));
    EXPECT_EQ(take.holds, take.blows) << tap_cents;
    ASSERT_EQ(take.found.size(), take.blows) << tap_cents;
    for (const test::FoundBlow& h : take.found) {
      EXPECT_TRUE(h.hold.register_break);
      EXPECT_NEAR(h.error_cents(), 0.0, 0.2) << "midi " << h.truth.midi << ", tap of " << tap_cents;
    }
  }
}

}  // namespace
}  // namespace windway
