// SPDX-License-Identifier: GPL-3.0-or-later
// Two hundred drawn pianos (tests/benchmarks/partner_takes measures the same over more).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "partner/played_partner.hpp"
#include "support/drawn_partner.hpp"

namespace windway {
namespace {

using namespace partner_tests;

struct Outcome {
  double largest_error_hz = 0;
  double held_percent = 0;
};

Outcome outcome_of(unsigned first_seed, int pianos, double scatter_cents) {
  Outcome outcome;
  for (int i = 0; i < pianos; ++i) {
    synthesis::Random random(first_seed + static_cast<unsigned>(i));
    const synthesis::DrawnPartner drawn = synthesis::drawn_partner(scatter_cents, random);
    const Partner partner = partner_of(drawn.samples, {}, drawn.rate_hz);
    const double error_hz = std::abs(partner.a4_hz - drawn.a4_hz);
    outcome.largest_error_hz = std::max(outcome.largest_error_hz, error_hz);
    outcome.held_percent += error_hz <= partner.a4_u95_hz ? 100.0 / pianos : 0.0;
  }
  testing::Test::RecordProperty("largest_error_hz", std::to_string(outcome.largest_error_hz));
  testing::Test::RecordProperty("held_percent", std::to_string(outcome.held_percent));
  return outcome;
}

TEST(DrawnPianos, InTuneGiveA4WithinATenthOfAHertz) {
  const Outcome outcome = outcome_of(501, 20, 0.0);
  EXPECT_LE(outcome.largest_error_hz, 0.1);
}

TEST(DrawnPianosSlow, InTuneGiveA4WithinATenthOfAHertz) {
  const Outcome outcome = outcome_of(1, 100, 0.0);
  EXPECT_LE(outcome.largest_error_hz, 0.1);
  EXPECT_GE(outcome.held_percent, 95.0);
}

// Each key off by a cent (SD): then A4 itself is as uncertain as the keys are few.
TEST(DrawnPianosSlow, TunedByEarAreCalledAsUncertainAsTheyAre) {
  const Outcome outcome = outcome_of(1001, 100, 1.0);
  EXPECT_GE(outcome.held_percent, 92.0);  // 95, less two standard deviations of 200 draws; here are 100
}

}  // namespace
}  // namespace windway
