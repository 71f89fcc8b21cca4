// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/head_step.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/random.hpp"

namespace windway {
namespace {

/// Fourteen notes of a whistle in the order of playing, two seconds each, off by 6 cents (SD); from the `first`-th on
/// the head is `slide_mm` farther out.
std::vector<TimedNote> scale_with(double slide_mm, std::size_t first, synthesis::Random& random) {
  std::vector<TimedNote> notes;
  for (std::size_t i = 0; i < 14; ++i) {
    const double cents_per_mm = 5.9 * std::exp2(static_cast<double>(i) / 13.0);
    notes.push_back(
        {{static_cast<int>(74 + 2 * i), ""}, 2.0 * static_cast<double>(i), random.normal(8, 6), cents_per_mm});
    if (i >= first) notes.back().cents -= slide_mm * cents_per_mm;
  }
  return notes;
}

TEST(FindHeadStep, TellsAHeadThatMovedFromNotesThatAreOff) {
  int found = 0, untrue = 0;
  double error_mm = 0;
  constexpr int takes = 300;
  for (int take = 1; take <= takes; ++take) {
    synthesis::Random random(static_cast<std::uint64_t>(take));
    const auto step = find_head_step(scale_with(4.0, 4 + static_cast<std::size_t>(take) % 6, random));
    found += step.has_value();
    if (step) error_mm = std::max(error_mm, std::abs(step->slide_mm - 4.0));
    untrue += find_head_step(scale_with(0.0, 14, random)).has_value();
  }
  EXPECT_GE(found, takes * 95 / 100);
  EXPECT_LE(untrue, takes / 100);
  EXPECT_LT(error_mm, 2.0);
}

TEST(FindHeadStep, NeedsThreeNotesOnEitherSide) {
  synthesis::Random random(1);
  auto notes = scale_with(6.0, 3, random);
  notes.resize(5);
  EXPECT_FALSE(find_head_step(notes));
  EXPECT_FALSE(find_head_step({}));
}

}  // namespace
}  // namespace windway
