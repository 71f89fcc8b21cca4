// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/measured_move.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/random.hpp"

namespace windway {
namespace {

/// Changes of a whistle's notes: `factor` times the predicted, and `warming_cents` on top, each with so much noise.
std::vector<NoteChange> changes(double drawn_out_mm, double factor, double warming_cents, double sd_cents,
                                synthesis::Random& random) {
  std::vector<NoteChange> notes;
  for (const double length_mm : {295.0, 263.0, 234.0, 221.0, 197.0, 175.0, 156.0}) {
    NoteChange note;
    note.predicted_cents = -cents_per_neper * std::log1p(drawn_out_mm / length_mm);
    note.change = {factor * *note.predicted_cents + warming_cents + random.normal(0, sd_cents),
                   normal_u95_factor * sd_cents};
    notes.push_back(note);
  }
  return notes;
}

TEST(MeasuredMove, FindsTheFactorOfTheFlute) {
  synthesis::Random random(1);
  const MeasuredMove move = measured_move(changes(4.0, 0.93, 0.0, 0.05, random), 4.0);
  EXPECT_NEAR(move.factor.factor, 0.93, 0.005);
  EXPECT_LT(move.factor.u95, 0.05);
  EXPECT_TRUE(move.is_telling);
  EXPECT_FALSE(move.warming_told);
}

TEST(MeasuredMove, TellsWarmingFromTheHeadWhereItIsPlain) {
  synthesis::Random random(2);
  const MeasuredMove move = measured_move(changes(4.0, 1.0, 6.0, 0.05, random), 4.0);
  EXPECT_TRUE(move.warming_told);
  EXPECT_NEAR(move.warming.cents, 6.0, move.warming.u95_cents);
  EXPECT_NEAR(move.factor.factor, 1.0, move.factor.u95);
}

TEST(MeasuredMove, OfASmallMoveIsNotTelling) {
  synthesis::Random random(3);
  EXPECT_FALSE(measured_move(changes(0.5, 1.0, 0.0, 0.3, random), 0.5).is_telling);
}

TEST(MeasuredMove, HasTheTruthInItsIntervalNineteenTimesInTwenty) {
  // Flutes warmed nearly alike, by half a cent SD: what the player cannot know.
  synthesis::Random random(4);
  int held = 0;
  constexpr int moves = 1000;
  for (int i = 0; i < moves; ++i) {
    const double factor = random.normal(1.0, 0.04);
    const double warming_cents = random.normal(0.0, 0.5);
    const MeasuredMove move = measured_move(changes(4.0, factor, warming_cents, 0.4, random), 4.0);
    held += std::abs(move.factor.factor - factor) <= move.factor.u95 ? 1 : 0;
  }
  EXPECT_GE(held, 930);
  EXPECT_LE(held, 995);
}

}  // namespace
}  // namespace windway
