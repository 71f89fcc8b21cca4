// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/breath_warnings.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "invented_blows.hpp"

namespace windway {
namespace {

using testing::MeantBlow;
using testing::three;

BreathResult result_of(const std::vector<MeantBlow>& meant, const BlowHint& hint = {}) {
  synthesis::Random random(7);
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

TEST(BreathWarnings, AHoldThatIsLeftOutAsUnsureIsSaid) {
  testing::Circumstances loose;
  loose.loose_doublings = 0.4;
  loose.room_db = 4;
  int said = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    synthesis::Random random(seed);
    const auto take = testing::invent_take(testing::in_steps(testing::notes_of_whistle, three), loose, random);
    const BreathResult result = measure_breath(take.naming, {});
    const bool is_left_out = std::ranges::count(result.used, false) > 0;
    EXPECT_EQ(testing::warned(result, WarningCode::blow_not_sure), is_left_out) << seed;
    said += is_left_out;
  }
  EXPECT_GT(said, 0);
}

}  // namespace
}  // namespace windway
