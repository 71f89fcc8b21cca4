// SPDX-License-Identifier: GPL-3.0-or-later
// A whole scale, soft, moderate and hard, against what was really played.
#include "support/truth.hpp"

#include <gtest/gtest.h>

#include <map>
#include <utility>

#include "instrument/note.hpp"
#include "measured_take.hpp"
#include "support/plan.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;
using test::steps_take;

using BlowOfNote = std::pair<int, Blow>;

/// Mean true pitch of each note's blows of each strength, over the steady parts of the holds found for them.
std::map<BlowOfNote, double> played_cents(const SyntheticTake& take, const Measurement& found) {
  std::map<BlowOfNote, double> cents;
  for (std::size_t i = 0; i < take.holds.size(); ++i) {
    const TrueHold& truth = take.holds[i];
    const Hold& hold = found.naming.holds.at(i).hold;
    cents[{truth.midi, truth.blow}] = mean_cents(truth, hold.steady_start_s, hold.steady_end_s).value();
  }
  return cents;
}

/// The notes as they were played, for the least cost by trying.
std::vector<TrueNote> played_notes(const SyntheticTake& take, const Measurement& found) {
  const auto cents = played_cents(take, found);
  std::vector<TrueNote> notes;
  for (const NoteBreath& note : found.breath.notes) {
    TrueNote played{note.id.midi, note.register_number, equal_tempered_hz(note.id.midi, 440.0), {}, 0.0, {}, {}};
    played.soft_cents = cents.at({note.id.midi, Blow::soft});
    played.moderate_cents = cents.at({note.id.midi, Blow::moderate});
    played.hard_cents = cents.at({note.id.midi, Blow::hard});
    played.spread_cents = *played.hard_cents - *played.soft_cents;
    notes.push_back(played);
  }
  return notes;
}

class MeasureSteps : public testing::TestWithParam<std::uint64_t> {
 protected:
  const std::vector<int> scale_ = major_scale(74, 23);
  const SyntheticTake take_ = steps_take(scale_, GetParam()).sound;
  const Measurement found_ = measured(take_.samples, take_.rate_hz);
};

TEST_P(MeasureSteps, NamesEveryHoldAndJudgesEveryBlow) {
  ASSERT_EQ(found_.naming.holds.size(), take_.holds.size());
  ASSERT_EQ(found_.breath.notes.size(), scale_.size());
  for (std::size_t i = 0; i < take_.holds.size(); ++i) {
    EXPECT_EQ(found_.naming.holds[i].note.midi, take_.holds[i].midi);
    EXPECT_TRUE(found_.breath.used[i]);
    EXPECT_EQ(found_.breath.blow[i], take_.holds[i].blow) << "midi " << take_.holds[i].midi;
  }
}

TEST_P(MeasureSteps, ModerateAndSpreadAreThoseThatWerePlayed) {
  ASSERT_EQ(found_.naming.holds.size(), take_.holds.size());
  const auto played = played_cents(take_, found_);
  for (const NoteBreath& note : found_.breath.notes) {
    SCOPED_TRACE("midi " + std::to_string(note.id.midi));
    EXPECT_NEAR(note.moderate.cents, played.at({note.id.midi, Blow::moderate}), 0.15);
    ASSERT_TRUE(note.spread);
    EXPECT_NEAR(note.spread->cents, played.at({note.id.midi, Blow::hard}) - played.at({note.id.midi, Blow::soft}),
                0.25);
  }
}

TEST_P(MeasureSteps, TheMoveIsTheOneThatTryingAllOthersFinds) {
  ASSERT_EQ(found_.naming.holds.size(), take_.holds.size());
  ASSERT_TRUE(found_.compromise);
  const LeastCost best = least_cost(played_notes(take_, found_));
  EXPECT_NEAR(found_.compromise->slide_mm, best.slide_mm, 0.03);
  EXPECT_NEAR(found_.compromise->shift_cents, best.shift_cents, 0.2);
}

INSTANTIATE_TEST_SUITE_P(Flutes, MeasureSteps, testing::Values(1, 2, 3));

}  // namespace
}  // namespace windway
