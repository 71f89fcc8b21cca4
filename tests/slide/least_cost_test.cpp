// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "brute_force.hpp"
#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::FluteMaker;
using test::measured_note;
using test::one_blow_note;
using test::sound_25_m_s;

Compromise found(const std::vector<NoteBreath>& notes) {
  return find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
}

TEST(FindCompromise, AgreesWithBruteForceOnRandomScales) {
  FluteMaker maker(1);
  for (int trial = 0; trial < 40; ++trial) {
    std::vector<NoteBreath> notes = maker.whistle(maker.uniform(-60, 60));
    if (trial % 2 == 1) {
      for (NoteBreath& note : notes) note.weight = maker.uniform(0, 3);
    }
    const Compromise compromise = found(notes);
    const test::BruteForce truth = test::brute_force_slide(notes, sound_25_m_s);
    EXPECT_NEAR(compromise.slide_mm, truth.slide_mm, 0.00501) << trial;  // half the brute force's step
    EXPECT_NEAR(compromise.shift_cents, truth.shift_cents, 0.08) << trial;
    EXPECT_LE(compromise.cost_after, truth.cost + 1e-12) << trial;
    EXPECT_NEAR(compromise.cost_before, test::brute_force_cost(notes, sound_25_m_s, 0, 0), 1e-9) << trial;
  }
}

TEST(FindCompromise, HomeA4AgreesWithBruteForceToAHundredthOfACent) {
  FluteMaker maker(2);
  for (int trial = 0; trial < 40; ++trial) {
    const std::vector<NoteBreath> notes = maker.whistle(maker.uniform(-25, 25));
    const double home_cents = cents_between(440.0, found(notes).home_a4_hz);
    EXPECT_NEAR(home_cents, test::brute_force_home_cents(notes, sound_25_m_s), 0.00501) << trial;
  }
}

TEST(FindCompromise, FindsTheLeastCostToAMillionthOfAMillimetre) {
  FluteMaker maker(3);
  for (int trial = 0; trial < 40; ++trial) {
    const std::vector<NoteBreath> notes = maker.whistle(maker.uniform(-40, 40));
    const double mm = found(notes).slide_mm;
    const auto cost = [&](double at_mm) { return test::brute_force_cost(notes, sound_25_m_s, at_mm, 0); };
    // Rising from half a millionth to one and a half on either side: so the least lies within one.
    EXPECT_GT(cost(mm + 1.5e-6), cost(mm + 0.5e-6)) << trial;
    EXPECT_GT(cost(mm - 1.5e-6), cost(mm - 0.5e-6)) << trial;
  }
}

TEST(FindCompromise, ASharpScaleIsDrawnOutAndAFlatOnePushedIn) {
  const Compromise sharp = found(even_scale(74, 10));
  EXPECT_GT(sharp.slide_mm, 0.5);
  EXPECT_LT(sharp.shift_cents, -5);
  EXPECT_GT(sharp.home_a4_hz, 440.0);
  const Compromise flat = found(even_scale(74, -10));
  EXPECT_LT(flat.slide_mm, -0.5);
  EXPECT_GT(flat.shift_cents, 5);
  EXPECT_LT(flat.home_a4_hz, 440.0);
}

TEST(FindCompromise, ALoneNoteIsSetTrue) {
  const Compromise compromise = found({measured_note(74, -3, 8, 12)});
  EXPECT_NEAR(compromise.notes.at(0).cents, 0.0, 1e-6);
  EXPECT_NEAR(compromise.shift_cents, -8.0, 1e-6);
  EXPECT_NEAR(compromise.cost_after, 0.0, 1e-12);
}

TEST(FindCompromise, AScaleInTuneStaysWhereItIs) {
  const Compromise compromise = found(even_scale(74, 0));
  EXPECT_NEAR(compromise.slide_mm, 0.0, 1e-9);
  EXPECT_NEAR(compromise.home_a4_hz, 440.0, 1e-6);
  EXPECT_EQ(compromise.cost_before, 0.0);
  EXPECT_TRUE(compromise.warnings.empty());
}

TEST(FindCompromise, RaisingEveryNoteDrawsTheHeadFartherOut) {
  FluteMaker maker(4);
  const std::vector<NoteBreath> notes = maker.whistle(0);
  double last_mm = -60;
  double last_hz = 0;
  for (double cents = -45; cents <= 45; cents += 5) {
    std::vector<NoteBreath> raised = notes;
    for (NoteBreath& note : raised) note.moderate.cents += cents;
    const Compromise compromise = found(raised);
    EXPECT_GT(compromise.slide_mm, last_mm + 0.1) << cents;
    EXPECT_GT(compromise.home_a4_hz, last_hz) << cents;
    last_mm = compromise.slide_mm;
    last_hz = compromise.home_a4_hz;
  }
}

TEST(FindCompromise, HomeA4MovesByExactlyWhatEveryNoteMoves) {
  FluteMaker maker(5);
  std::vector<NoteBreath> notes = maker.whistle(0);
  const double before_hz = found(notes).home_a4_hz;
  for (NoteBreath& note : notes) note.moderate.cents += 7.5;
  EXPECT_NEAR(cents_between(before_hz, found(notes).home_a4_hz), 7.5, 1e-6);
}

TEST(FindCompromise, TheOrderOfTheNotesChangesNothing) {
  FluteMaker maker(6);
  std::vector<NoteBreath> notes = maker.whistle(12);
  const double mm = found(notes).slide_mm;
  std::reverse(notes.begin(), notes.end());
  EXPECT_NEAR(found(notes).slide_mm, mm, 1e-8);
}

TEST(FindCompromise, ANoteThatNoBreathSavesDoesNotDragTheOthers) {
  std::vector<NoteBreath> notes = even_scale(74, 10);
  const double mm = found(notes).slide_mm;
  notes[6].moderate.cents = 60;
  const double with_60_mm = found(notes).slide_mm;
  notes[6].moderate.cents = 90;
  const double with_90_mm = found(notes).slide_mm;
  EXPECT_LT(with_60_mm - mm, 1.0);
  EXPECT_NEAR(with_90_mm, with_60_mm, 0.02);
}

TEST(FindCompromise, TheCostIsSquareUpToAnEffortOfTwoAndStraightBeyond) {
  const auto cost_of = [](double cents) {
    return find_compromise({measured_note(74, cents - 10, cents, cents + 10)}, Head{false, {}, {}}, 440.0, sound_25_m_s,
                           {})
        .cost_before;
  };
  EXPECT_NEAR(cost_of(15), 2.25, 1e-12);
  EXPECT_NEAR(cost_of(-20), 4.0, 1e-12);
  EXPECT_NEAR(cost_of(30), 8.0, 1e-12);
  EXPECT_NEAR(cost_of(-40), 12.0, 1e-12);
}

TEST(FindCompromise, AStiffNotePullsHarderThanAnEasyOne) {
  // One note sharp, one flat by as much: the head serves the one that the breath can hardly bend.
  const NoteBreath stiff = measured_note(74, 2, 10, 18);
  const NoteBreath easy = measured_note(76, -50, -10, 30);
  EXPECT_GT(found({stiff, easy}).slide_mm, 1.0);
}

TEST(FindCompromise, TheReachIsTakenOnTheSideOfTheResidual) {
  // Both notes bend down 40 cents; up, the first 6 and the second 40. So the first may not be left flat.
  const NoteBreath up_stiff = measured_note(74, -50, -10, -4);
  const NoteBreath easy = measured_note(76, -30, 10, 50);
  const Compromise compromise = found({up_stiff, easy});
  EXPECT_LT(compromise.slide_mm, -1.0);
  EXPECT_LT(compromise.notes[0].effort * 6, 5.0);
}

TEST(FindCompromise, NoReachIsTakenAsLessThanFiveCents) {
  const MovedNote moved = found({measured_note(74, 9.5, 10, 10.5), measured_note(79, -20, -4, 9)}).notes[0];
  EXPECT_EQ(moved.reach_soft_cents, 5.0);
  EXPECT_EQ(moved.reach_hard_cents, 5.0);
}

TEST(FindCompromise, ANoteWithoutAReachTakesTheMedianOfTheOthers) {
  const Compromise compromise = found({measured_note(74, -10, 0, 8), measured_note(76, -14, 0, 9),
                                       measured_note(78, -30, 0, 25), one_blow_note(79, 3)});
  EXPECT_EQ(compromise.notes[3].reach_soft_cents, 14.0);
  EXPECT_EQ(compromise.notes[3].reach_hard_cents, 9.0);
  const Compromise none = found({one_blow_note(74, 3), one_blow_note(76, 5)});
  EXPECT_EQ(none.notes[0].reach_soft_cents, 5.0);
  EXPECT_EQ(none.notes[1].reach_hard_cents, 5.0);
}

TEST(FindCompromise, AWeightOfTwoCountsAsTheNoteTwice) {
  std::vector<NoteBreath> notes{measured_note(74, -5, 9, 20), measured_note(76, -30, -8, 4),
                                measured_note(78, 0, 14, 22)};
  std::vector<NoteBreath> twice = notes;
  twice.push_back(notes[1]);
  notes[1].weight = 2;
  EXPECT_NEAR(found(notes).slide_mm, found(twice).slide_mm, 1e-8);
  EXPECT_NEAR(found(notes).shift_cents, found(twice).shift_cents, 1e-6);
}

TEST(FindCompromise, WeightsThatAreAllZeroCountAlike) {
  std::vector<NoteBreath> notes = FluteMaker(7).whistle(10);
  const double mm = found(notes).slide_mm;
  for (NoteBreath& note : notes) note.weight = 0;
  EXPECT_NEAR(found(notes).slide_mm, mm, 1e-9);
}

TEST(FindCompromise, HomeA4LiesMidwayBetweenTwoNotesThatNoBreathJoins) {
  const Compromise compromise = found({one_blow_note(74, -30), one_blow_note(79, 30)});
  EXPECT_NEAR(compromise.home_a4_hz, 440.0, 1e-6);
}

}  // namespace
}  // namespace windway
