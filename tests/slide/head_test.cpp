// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::sound_25_m_s;

Compromise with_head(double moderate_cents, const Head& head) {
  return find_compromise(even_scale(74, moderate_cents), head, 440.0, sound_25_m_s, {});
}

bool warns_of(const Compromise& compromise, WarningCode code) {
  for (const Warning& warning : compromise.warnings) {
    if (warning.code == code) return true;
  }
  return false;
}

TEST(Head, WithoutAKnownTravelNothingStopsIt) {
  EXPECT_FALSE(with_head(30, Head{}).limit);
  EXPECT_FALSE(with_head(-30, Head{}).limit);
  EXPECT_GT(with_head(30, Head{}).slide_mm, 3.0);
  EXPECT_LT(with_head(-30, Head{}).slide_mm, -3.0);
}

TEST(Head, FullyInItCannotBePushedIn) {
  const Compromise flat = with_head(-12, Head{true, 0.0, {}});
  EXPECT_EQ(flat.slide_mm, 0.0);
  EXPECT_FALSE(std::signbit(flat.slide_mm));
  EXPECT_EQ(flat.limit, SlideLimit::fully_in);
  EXPECT_TRUE(warns_of(flat, WarningCode::fully_in));
  EXPECT_FALSE(warns_of(flat, WarningCode::head_position_unknown));
  EXPECT_EQ(flat.cost_before, flat.cost_after);
  EXPECT_EQ(flat.notes[0].breath, BreathAdvice::harder);
}

TEST(Head, FullyInItCanStillBeDrawnOut) {
  const Compromise sharp = with_head(12, Head{true, 0.0, {}});
  EXPECT_NEAR(sharp.slide_mm, with_head(12, Head{}).slide_mm, 1e-9);
  EXPECT_FALSE(sharp.limit);
  EXPECT_TRUE(sharp.warnings.empty());
}

TEST(Head, GoesInAsFarAsItWasOut) {
  EXPECT_EQ(with_head(-12, Head{true, 0.7, {}}).slide_mm, -0.7);
  EXPECT_EQ(with_head(-12, Head{true, 0.7, {}}).limit, SlideLimit::fully_in);
  EXPECT_FALSE(with_head(-12, Head{true, 5.0, {}}).limit);
  EXPECT_LT(with_head(-12, Head{true, 5.0, {}}).slide_mm, -1.0);
}

TEST(Head, DrawsOutToTheEndOfItsTravel) {
  const Compromise sharp = with_head(25, Head{true, 4.0, 5.5});
  EXPECT_EQ(sharp.slide_mm, 1.5);
  EXPECT_EQ(sharp.limit, SlideLimit::travel);
  EXPECT_TRUE(warns_of(sharp, WarningCode::end_of_travel));
  EXPECT_GT(sharp.notes[0].cents, 10.0);
}

TEST(Head, OfUnknownPlaceMovesByItsTravelAtMost) {
  EXPECT_EQ(with_head(25, Head{true, {}, 2.0}).slide_mm, 2.0);
  EXPECT_EQ(with_head(25, Head{true, {}, 2.0}).limit, SlideLimit::travel);
  EXPECT_EQ(with_head(-25, Head{true, {}, 2.0}).slide_mm, -2.0);
  EXPECT_EQ(with_head(-25, Head{true, {}, 2.0}).limit, SlideLimit::fully_in);
}

TEST(Head, FixedStaysAndLeavesAllToTheBreath) {
  const Compromise fixed = with_head(12, Head{false, {}, {}});
  EXPECT_EQ(fixed.slide_mm, 0.0);
  EXPECT_EQ(fixed.slide_u95_mm, 0.0);
  EXPECT_EQ(fixed.shift_cents, 0.0);
  EXPECT_EQ(fixed.limit, SlideLimit::fixed_head);
  EXPECT_TRUE(warns_of(fixed, WarningCode::fixed_head));
  for (const MovedNote& note : fixed.notes) EXPECT_NEAR(note.cents, 12.0, 1e-9);
  EXPECT_EQ(fixed.notes[0].breath, BreathAdvice::softer);
}

TEST(Head, FixedAndInTuneNeedsNoWarning) {
  const Compromise fixed = with_head(0.2, Head{false, {}, {}});
  EXPECT_EQ(fixed.limit, SlideLimit::fixed_head);
  EXPECT_TRUE(fixed.warnings.empty());
}

TEST(Head, AtALimitTheIntervalReachesToTheFreeSideOnly) {
  // The best place is fully in, give or take the noise: half of the draws stay there, the others lie farther out.
  std::vector<NoteBreath> notes = even_scale(74, -0.02);
  for (NoteBreath& note : notes) note.moderate.u95_cents = 2.0;
  const Compromise free = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  const Compromise fully_in = find_compromise(notes, Head{true, 0.0, {}}, 440.0, sound_25_m_s, {});
  EXPECT_EQ(fully_in.limit, SlideLimit::fully_in);
  // 95 % one-sided: 1.645 of the same standard uncertainty that two-sided makes 1.960 (JCGM 100:2008, table G.1).
  EXPECT_NEAR(fully_in.slide_u95_mm / free.slide_u95_mm, 1.645 / 1.960, 0.12);
  // Far beyond the limit the move is certain: none.
  for (NoteBreath& note : notes) note.moderate.cents = -20;
  EXPECT_EQ(find_compromise(notes, Head{true, 0.0, {}}, 440.0, sound_25_m_s, {}).slide_u95_mm, 0.0);
}

}  // namespace
}  // namespace windway
