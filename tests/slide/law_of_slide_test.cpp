// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/law_of_slide.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(LawOfSlide, DoublingTheLengthIsAnOctaveDown) { EXPECT_NEAR(slide_change_cents(290, 290), -1200, 1e-9); }

TEST(LawOfSlide, TheInstrumentsFactorMultipliesTheChange) {
  EXPECT_NEAR(slide_change_cents(290, 3, 0.9), 0.9 * slide_change_cents(290, 3), 1e-12);
}

TEST(LawOfSlide, TheInverseTakesEveryChangeBack) {
  for (const double slide_mm : {-20.0, -0.1, 0.0, 0.1, 20.0})
    for (const double factor : {0.8, 1.0, 1.2})
      EXPECT_NEAR(slide_for_change_mm(290, slide_change_cents(290, slide_mm, factor), factor), slide_mm, 1e-9);
}

TEST(LawOfSlide, ASmallMoveGoesAtTheRatePerMillimetre) {
  EXPECT_NEAR(slide_change_cents(290, 1e-4, 0.9) / -1e-4, slide_cents_per_mm(290, 0.9), 1e-4);
  EXPECT_NEAR(slide_cents_per_mm(290, 0.9) * slide_mm_per_cent(290, 0.9), 1.0, 1e-12);
}

}  // namespace
}  // namespace windway
