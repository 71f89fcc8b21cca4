// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <string>

#include "flutes.hpp"
#include "slide/slide.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::sound_25_m_s;

/// The message of the warning `code`; empty where it is not given.
std::string message_of(const Compromise& compromise, WarningCode code) {
  for (const Warning& warning : compromise.warnings) {
    if (warning.code == code) return warning.message;
  }
  return {};
}

std::string far_off_message(double cents) {
  return message_of(find_compromise(even_scale(74, cents), Head{}, 440.0, sound_25_m_s, {}),
                    WarningCode::scale_far_off);
}

TEST(SlideWarnings, AScaleWithinSixtyCentsIsNotFarOff) {
  EXPECT_TRUE(far_off_message(59).empty());
  EXPECT_TRUE(far_off_message(-59).empty());
  EXPECT_FALSE(far_off_message(61).empty());
  EXPECT_FALSE(far_off_message(-61).empty());
}

TEST(SlideWarnings, AFarOffScaleIsStillGivenItsCompromise) {
  const Compromise compromise = find_compromise(even_scale(74, 70), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_GT(compromise.slide_mm, 5.0);
  EXPECT_NEAR(compromise.home_a4_hz, hz_at_cents(440.0, 70), 1e-6);
}

TEST(SlideWarnings, AFarTooFlatScaleIsNotAskedAboutItsHead) {
  const Compromise compromise = find_compromise(even_scale(74, -101), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(message_of(compromise, WarningCode::head_position_unknown).empty());
}

TEST(SlideWarnings, TheSizeOfTheOffsetTellsTheLikelyMistake) {
  // Sizes from ISO 16 and arithmetic: 415 Hz -101.27, 466 Hz +99.39, 48000 / 44100 146.71 cents.
  EXPECT_TRUE(has(far_off_message(-101.27), "A4 = 415 Hz"));
  EXPECT_TRUE(has(far_off_message(-95), "--a4 415"));
  EXPECT_TRUE(has(far_off_message(99.39), "A4 = 466 Hz"));
  EXPECT_TRUE(has(far_off_message(146.71), "wrong sample rate"));
  EXPECT_TRUE(has(far_off_message(-146.71), "wrong sample rate"));
  EXPECT_TRUE(has(far_off_message(-200.0), "A4 = 392 Hz"));
  EXPECT_TRUE(has(far_off_message(70), "70.0 cents sharp"));
  EXPECT_TRUE(has(far_off_message(70), "--a4"));
  EXPECT_TRUE(has(far_off_message(70), "--lowest"));
  EXPECT_TRUE(has(far_off_message(70), "sample rate"));
}

TEST(SlideWarnings, PushingInAHeadOfUnknownPlaceAsksForFullyIn) {
  const Compromise flat = find_compromise(even_scale(74, -8), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(has(message_of(flat, WarningCode::head_position_unknown),
                  "If it is already fully in, run again with --fully-in to see how to blow instead"));
  const Compromise sharp = find_compromise(even_scale(74, 8), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(sharp.warnings.empty());
  const Compromise hardly_flat = find_compromise(even_scale(74, -0.1), Head{}, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(hardly_flat.warnings.empty());
}

TEST(SlideWarnings, ALimitSaysWhatIsLeftAndWhereTheScaleIsAtHome) {
  const Head fully_in{true, 0.0, {}};
  const Compromise flat = find_compromise(even_scale(74, -7.9), fully_in, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(has(message_of(flat, WarningCode::fully_in), "7.9 cents flat: blow harder, or play at A4 = 438.0 Hz"));
  const Compromise fixed = find_compromise(even_scale(74, 7.88), Head{false, {}, {}}, 440.0, sound_25_m_s, {});
  EXPECT_TRUE(
      has(message_of(fixed, WarningCode::fixed_head), "7.9 cents sharp: blow softer, or play at A4 = 442.0 Hz"));
}

}  // namespace
}  // namespace windway
