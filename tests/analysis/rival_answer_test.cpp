// SPDX-License-Identifier: GPL-3.0-or-later
#include "rival_answer.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

Measurement answer(Kind kind, double slide_mm, double u95_mm) {
  Measurement measurement;
  measurement.naming.instrument = builtin_instrument(kind, 72);
  measurement.compromise = Compromise{};
  measurement.compromise->slide_mm = slide_mm;
  measurement.compromise->slide_u95_mm = u95_mm;
  return measurement;
}

TEST(RivalWarning, GivesBothAnswersAndAsksWhereTheyDifferByMoreThanTheirU95) {
  const auto asked = rival_warning(answer(Kind::whistle, 1.2, 0.3), answer(Kind::recorder, 3.0, 0.4));
  ASSERT_TRUE(asked);
  EXPECT_EQ(asked->code, WarningCode::instrument_ambiguous);
  EXPECT_EQ(asked->message,
            "which flute is it? What was played fits two about as well. If it is a whistle in C from C5, draw the head "
            "out 1.2 mm (± 0.3). If it is a recorder in C from C5, draw the head out 3.0 mm (± 0.4). Run again with "
            "--kind whistle or with --kind recorder.");
  EXPECT_TRUE(is_deep_doubt(asked->code));
}

TEST(RivalWarning, IsNoneWhereTheAnswersAgree) {
  EXPECT_FALSE(rival_warning(answer(Kind::whistle, 1.2, 0.3), answer(Kind::recorder, 1.4, 0.3)));
  EXPECT_FALSE(rival_warning(answer(Kind::whistle, 1.20, 0.01), answer(Kind::recorder, 1.25, 0.01)));
}

}  // namespace
}  // namespace windway
