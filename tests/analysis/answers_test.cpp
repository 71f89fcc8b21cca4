// SPDX-License-Identifier: GPL-3.0-or-later
// Takes at the edge of what can be measured, and those that cannot.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "error.hpp"
#include "measured_take.hpp"
#include "support/noise.hpp"
#include "support/plan.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;
using test::steps_take;

TEST(Measure, ATakeOfOneNoteIsMeasured) {
  const test::PlayedTake take = steps_take({81}, 3);
  const Measurement found = measured(take.sound.samples, take.sound.rate_hz);
  ASSERT_EQ(found.breath.notes.size(), 1U);
  EXPECT_EQ(found.breath.notes[0].id.midi, 81);
  EXPECT_EQ(found.breath.notes[0].holds, 3);
  ASSERT_TRUE(found.compromise);
  // With one note the best move makes just that note true.
  EXPECT_NEAR(found.compromise->notes.at(0).cents, 0.0, 1e-3);
  EXPECT_NEAR(found.compromise->shift_cents, -found.breath.notes[0].moderate.cents, 1e-3);
}

TEST(Measure, ASingleBlowHasNoSpread) {
  Random random(6);
  const FluteModel flute = draw_flute({}, random);
  const auto plan = note_by_note({79}, {Blow::moderate}, {}, {}, random);
  const SyntheticTake take = synthesise_take(flute, plan, {}, random);
  const Measurement found = measured(take.samples, take.rate_hz);
  ASSERT_EQ(found.breath.notes.size(), 1U);
  EXPECT_FALSE(found.breath.notes[0].spread);
  EXPECT_FALSE(found.breath.notes[0].reach_soft_cents);
  EXPECT_FALSE(found.breath.drift);
}

class MeasureAtRate : public testing::TestWithParam<double> {};

TEST_P(MeasureAtRate, FindsEveryNoteAndItsPitch) {
  Performance performance;
  performance.rate_hz = GetParam();
  const test::PlayedTake take = steps_take({74, 79, 83, 86, 90, 95}, 8, performance);
  const Measurement found = measured(take.sound.samples, take.sound.rate_hz);
  ASSERT_EQ(found.naming.holds.size(), take.sound.holds.size());
  EXPECT_EQ(found.takes.at(0).sample_rate_hz, GetParam());
  for (std::size_t i = 0; i < found.naming.holds.size(); ++i) {
    const NamedHold& named = found.naming.holds[i];
    const TrueHold& truth = take.sound.holds[i];
    EXPECT_EQ(named.note.midi, truth.midi);
    const auto true_cents = mean_cents(truth, named.hold.steady_start_s, named.hold.steady_end_s);
    EXPECT_NEAR(named.deviation_cents, true_cents.value(), 0.1) << "midi " << truth.midi;
  }
}

INSTANTIATE_TEST_SUITE_P(Rates, MeasureAtRate, testing::Values(8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0),
                         [](const auto& rate) { return std::to_string(std::lround(rate.param)) + "Hz"; });

TEST(Measure, ClippedSamplesAndGapsInTheDataMoveNoNote) {
  const test::PlayedTake take = steps_take({74, 79, 83, 86}, 12);
  const Measurement clean = measured(take.sound.samples, take.sound.rate_hz);
  std::vector<float> damaged = take.sound.samples;
  for (float& x : damaged) x = std::clamp(x, -0.3F, 0.3F);
  for (const double gap_s : {0.1, 0.2}) damaged[static_cast<std::size_t>(gap_s * 24000.0)] = std::nanf("");
  const Measurement found = measured(damaged, take.sound.rate_hz);
  ASSERT_EQ(found.breath.notes.size(), clean.breath.notes.size());
  for (std::size_t i = 0; i < clean.breath.notes.size(); ++i) {
    EXPECT_NEAR(found.breath.notes[i].moderate.cents, clean.breath.notes[i].moderate.cents, 0.1);
  }
  EXPECT_TRUE(found.takes.at(0).non_finite);
  EXPECT_FALSE(found.warnings.empty());
}

/// The words of the error, empty where there is none.
std::string refusal(const std::vector<float>& samples) {
  try {
    measured(samples, 24000.0);
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    return error.what();
  }
  return "";
}

TEST(Measure, SilenceIsRefusedWithItsRemedy) {
  EXPECT_NE(refusal(silence(24000.0, 3.0)).find("turn the recording level up"), std::string::npos);
}

TEST(Measure, TalkAndNoiseAreRefusedAsHoldingNoNote) {
  Random random(2);
  EXPECT_NE(refusal(to_float(babble(6.0, 24000.0, random))).find("no held note"), std::string::npos);
  EXPECT_NE(refusal(to_float(white_noise(72000, 0.1, random))).find("no held note"), std::string::npos);
}

TEST(Measure, AFileOfAFewSamplesIsRefused) {
  EXPECT_FALSE(refusal({0.1F}).empty());
  EXPECT_FALSE(refusal(std::vector<float>(700, 0.1F)).empty());
}

}  // namespace
}  // namespace windway
