// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/breath_warnings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::MeantBlow;
using testing::three;

BreathResult result_of(const std::vector<MeantBlow>& meant, const BlowHint& hint = {}, std::uint64_t seed = 7) {
  synthesis::Random random(seed);
  return measure_breath(testing::invent_take(meant, {}, random).naming, hint);
}

TEST(BreathWarnings, AnOrderSaidTheWrongWayRoundIsContradictedByThePitch) {
  const auto meant = testing::in_steps(testing::notes_of_whistle, three);
  const BreathResult wrong = result_of(meant, {{Blow::hard, Blow::moderate, Blow::soft}, {}});
  const Warning* warning = find_warning(wrong.warnings, WarningCode::blows_contradict);
  ASSERT_TRUE(warning);
  EXPECT_EQ(warning->message.rfind("on all notes the blow given as hard is flatter", 0), 0U) << warning->message;
  for (const NoteBreath& note : wrong.notes) EXPECT_FALSE(note.spread);
  EXPECT_FALSE(testing::warned(result_of(meant, {three, {}}), WarningCode::blows_contradict));
}

TEST(BreathWarnings, ANoteBlownHardAloneHasAGuessedModeratePitch) {
  std::vector<MeantBlow> meant = testing::in_steps(testing::notes_of_whistle, three);
  EXPECT_FALSE(testing::warned(result_of(meant), WarningCode::moderate_not_blown));
  meant.erase(meant.begin() + 12, meant.begin() + 14);  // soft and moderate of the fifth note
  const BreathResult lone = result_of(meant);
  const Warning* warning = find_warning(lone.warnings, WarningCode::moderate_not_blown);
  ASSERT_TRUE(warning);
  EXPECT_EQ(warning->message.rfind("A5 may not have been blown moderately: its", 0), 0U) << warning->message;
  EXPECT_GT(lone.notes[4].moderate.u95_cents, 3.0 * lone.notes[3].moderate.u95_cents);
}

TEST(BreathWarnings, AHoldHalfwayBetweenTwoStrengthsIsLeftOutAndSaid) {
  std::vector<MeantBlow> meant = testing::in_steps(testing::notes_of_whistle, three);
  meant.insert(meant.begin() + 15, {4, Blow::moderate, 0.5 * testing::strength_of(Blow::soft)});
  int told = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const BreathResult result = result_of(meant, {}, seed);
    const Warning* warning = find_warning(result.warnings, WarningCode::blow_not_sure);
    if (!warning) continue;
    ++told;
    EXPECT_EQ(warning->message.rfind("a hold of A5 was left out", 0), 0U) << warning->message;
    EXPECT_EQ(std::ranges::count(result.used, false), 1);
  }
  EXPECT_GE(told, 5);  // by chance it may lie nearer to one of the two
}

}  // namespace
}  // namespace windway
