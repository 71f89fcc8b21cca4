// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/raised_targets.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(TargetsRaised, LeaveEachBlowWhereItSounds) {
  NoteBreath note;
  note.target_hz = 440;
  note.soft = CentsEstimate{-5, 0.1};
  note.moderate = {2, 0.1};
  note.hard = CentsEstimate{9, 0.1};
  note.spread = CentsEstimate{14, 0.1};
  const double cents = cents_between(440, 443);
  const NoteBreath raised = with_targets_raised({note}, cents).front();
  EXPECT_NEAR(raised.target_hz, 443, 1e-9);
  EXPECT_NEAR(hz_at_cents(raised.target_hz, raised.moderate.cents), hz_at_cents(440, 2), 1e-9);
  EXPECT_NEAR(hz_at_cents(raised.target_hz, raised.soft->cents), hz_at_cents(440, -5), 1e-9);
  EXPECT_NEAR(hz_at_cents(raised.target_hz, raised.hard->cents), hz_at_cents(440, 9), 1e-9);
  EXPECT_EQ(raised.spread->cents, 14);
}

}  // namespace
}  // namespace windway
