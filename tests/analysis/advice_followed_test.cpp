// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "agreement/drawn_calls.hpp"
#include "support/plan.hpp"
#include "support/random.hpp"
#include "support/truth.hpp"

namespace windway {
namespace {

using namespace synthesis;

/// What the flute asks of the breath, meant as soft, moderate and hard are, with its head moved so far.
double true_cost(const FluteModel& flute, double slide_mm) {
  Random random(1);
  const auto plan = note_by_note(major_scale(74, 16), {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  return mean_cost(true_notes(test::flute_in({slide_mm, 0.0, 0.0, 1.0}, flute), plan, Strengths{}), 0.0, 0.0);
}

TEST(MeasureSlow, TheMoveFollowedLeavesNoMoreEffortThanTheBestAndTwoPercent) {
  double followed = 0, best = 0;
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    Random random(90000 + seed);
    const FluteModel flute = test::drawn_whistle(90000 + seed, random.uniform(0.0, 25.0));
    const Measurement found = test::measured_call(flute, {{}}, 90000 + seed);
    ASSERT_TRUE(found.compromise);
    double least = true_cost(flute, 0.0);
    for (int step = -20; step <= 200; ++step) least = std::min(least, true_cost(flute, 0.04 * step));
    followed += true_cost(flute, found.compromise->slide_mm);
    best += least;
  }
  EXPECT_LE(followed, 1.02 * best);
  RecordProperty("effort_over_best", std::to_string(followed / best));
}

}  // namespace
}  // namespace windway
