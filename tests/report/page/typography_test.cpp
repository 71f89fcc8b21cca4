// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/typography.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(Typeset, SetsAMinusBeforeFiguresOnly) {
  EXPECT_EQ(typeset("-2.4"), "−2.4");
  EXPECT_EQ(typeset("from -3 to (-1)"), "from −3 to (−1)");
  EXPECT_EQ(typeset("2026-03-01 at hw-0412"), "2026-03-01 at hw-0412");
  EXPECT_EQ(typeset("--same-setting - x"), "--same-setting - x");
}

TEST(Typeset, SetsSharpsAndFlatsOfNotesOnly) {
  EXPECT_EQ(typeset("F#5, Bb and C#6 vented."), "F♯5, B♭ and C♯6 vented.");
  EXPECT_EQ(typeset("Set it by Bb5: then F#."), "Set it by B♭5: then F♯.");
  EXPECT_EQ(typeset("D5 Ebony takes/F#5.wav x#1"), "D5 Ebony takes/F#5.wav x#1");
  EXPECT_EQ(typeset("F#-1"), "F♯-1");
}

TEST(Typeset, KeepsAFigureWithItsUnit) {
  EXPECT_EQ(typeset("1.2 mm (± 0.1)"), "1.2\u00A0mm (±\u00A00.1)");
  EXPECT_EQ(typeset("440 Hz and 25 °C"), "440\u00A0Hz and 25\u00A0°C");
  EXPECT_EQ(typeset("3 s so 3 sons"), "3\u00A0s so 3 sons");
}

}  // namespace
}  // namespace windway
