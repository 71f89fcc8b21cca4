// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/steady_blow.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "flutes.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::sound_25_m_s;

/// Notes that answer the breath with 3 cents a dB over 10 dB.
std::vector<NoteBreath> bendable_scale(double moderate_cents) {
  std::vector<NoteBreath> notes = even_scale(74, moderate_cents);
  for (NoteBreath& note : notes) {
    note.cents_per_db = CentsEstimate{3.0, 0.2};
    note.level_range_db = 10.0;
  }
  return notes;
}

std::optional<SteadyBlow> steady_of(const std::vector<NoteBreath>& notes) {
  return find_compromise(notes, Head{false, {}, {}}, 440.0, sound_25_m_s, {}).steady_blow;
}

TEST(SteadyBlow, OfAScaleThatIsSharpThroughoutTakesItAllBack) {
  const auto blow = steady_of(bendable_scale(6.0));
  ASSERT_TRUE(blow);
  EXPECT_NEAR(blow->louder_db, -2.0, 0.011);  // 6 cents over 3 cents a dB
  EXPECT_NEAR(blow->way_share, 0.4, 0.003);   // of the 5 dB from moderate to soft
  EXPECT_NEAR(blow->shift_cents, -6.0, 0.04);
  EXPECT_NEAR(blow->cost_after, 0.0, 1e-3);
}

TEST(SteadyBlow, GoesNoFurtherThanThePlayersOwnHardAndSoft) {
  EXPECT_NEAR(steady_of(bendable_scale(-30.0))->louder_db, 5.0, 0.011);
  EXPECT_NEAR(steady_of(bendable_scale(30.0))->louder_db, -5.0, 0.011);
}

TEST(SteadyBlow, IsNotAskedForWhereNothingIsWonOrNothingKnown) {
  EXPECT_FALSE(steady_of(bendable_scale(0.0)));
  EXPECT_FALSE(steady_of(even_scale(74, 6.0)));  // no note's answer to the breath is known
  EXPECT_FALSE(find_compromise(bendable_scale(6.0), Head{}, 440.0, sound_25_m_s, {}).steady_blow);  // the head answers
}

}  // namespace
}  // namespace windway
