// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/lines/advice_to_maker.hpp"

#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"

namespace windway {
namespace {

HoleAdvice degree_of_b(bool is_sure) {
  HoleAdvice degree;
  degree.degree_semitones = 9;
  degree.common = {-6.0, 0.4};
  degree.by_register = {{{83, ""}, 1, {-9.9, 0.4}}, {{95, ""}, 2, {-2.1, 0.5}}};
  degree.registers_disagree = true;
  degree.is_sure = is_sure;
  return degree;
}

TEST(AdviceToMaker, NamesTheNotesThatDiffer) {
  const BenchEntry model = batch_tests::made_up_entry("HW-1", {0.0});
  const std::string differ =
      "B5 and B6 differ (B5 9.9 cents flat (± 0.4) and B6 2.1 cents flat (± 0.5)): both use one hole";
  EXPECT_NE(degree_in_words(degree_of_b(true), model).find(". " + differ), std::string::npos)
      << degree_in_words(degree_of_b(true), model);
  BenchAdvice advice;
  advice.instruments = 20;
  advice.degrees = {degree_of_b(false)};
  const std::string wide = text_of(advice_to_maker(advice, model), 500);
  EXPECT_NE(wide.find("  " + differ), std::string::npos) << wide;
  EXPECT_NE(wide.find("a scale cannot show it"), std::string::npos) << wide;
  EXPECT_TRUE(fits(text_of(advice_to_maker(advice, model)), text_columns));
}

}  // namespace
}  // namespace windway
