// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "invented_holds.hpp"

namespace windway {
namespace {

using namespace testing;

constexpr int d5 = 74, d6 = 86, e6 = 88;

struct Slip {
  int midi = 0;
  double level_db = -30.0;  ///< of the upper note; the other blows' lie between -20 and -13
  double gap_s = 0.04;
};

/// Two octaves, soft, moderate and hard; after them each slip: the note, then its lower octave.
Naming named_with(const std::vector<Slip>& slips) {
  std::vector<MeantHold> meant = steps(two_octaves(d5));
  const std::size_t before = meant.size();
  for (const Slip& slip : slips) {
    meant.push_back({slip.midi, -10.0, slip.level_db});
    meant.push_back({slip.midi - 12, -10.0, slip.level_db - 2.0});
  }
  std::vector<Hold> holds = holds_of(meant);
  for (std::size_t s = 0; s < slips.size(); ++s) {
    Hold& upper = holds[before + 2 * s];
    const Hold& lower = holds[before + 2 * s + 1];
    upper.end_s = lower.start_s - slips[s].gap_s;
  }
  return name_holds(holds, told(Kind::whistle, "D5"), {440});
}

long slips_warned_of(const Naming& naming) {
  return std::ranges::count(naming.warnings, WarningCode::octave_slip, &Warning::code);
}

TEST(OctaveSlips, ASoftBlowThatFallsToTheLowerOctaveIsWarnedOfByName) {
  const Naming naming = named_with({{.midi = e6}});
  ASSERT_EQ(slips_warned_of(naming), 1);
  const std::string text = warning_text(naming, WarningCode::octave_slip);
  EXPECT_TRUE(text.starts_with("E6 slipped into the lower octave when blown soft (at ")) << text;
  EXPECT_NE(text.find("counts as E5. Blow E6 a little harder"), std::string::npos) << text;
}

TEST(OctaveSlips, ANoteThatSlipsAgainIsWarnedOfOnce) {
  const Naming naming = named_with({{.midi = e6}, {.midi = d6}, {.midi = e6}});
  EXPECT_EQ(slips_warned_of(naming), 2);
  EXPECT_NE(warning_text(naming, WarningCode::octave_slip).find("D6"), std::string::npos);  // notes ascend
  EXPECT_NE(naming.warnings.back().message.find("(2 times, first at "), std::string::npos);
}

TEST(OctaveSlips, ABreathBeforeTheLowerOctaveIsNoSlip) {
  EXPECT_EQ(slips_warned_of(named_with({{.midi = e6, .gap_s = 0.12}})), 0);
}

TEST(OctaveSlips, AHardBlowDoesNotSlip) {
  EXPECT_EQ(slips_warned_of(named_with({{.midi = e6, .level_db = -10.0}})), 0);
}

TEST(OctaveSlips, APlainScaleHasNone) { EXPECT_EQ(slips_warned_of(named_with({})), 0); }

}  // namespace
}  // namespace windway
