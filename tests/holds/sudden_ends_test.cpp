// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/sudden_ends.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "pitch/spectrum.hpp"
#include "played_tone.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double rate_hz = 24000.0;
constexpr double start_s = 0.5;

TEST(HeardPart, OfAWholeWindowIsItsMainLobe) {
  for (const double offset_bins : {-1.4, -0.5, 0.0, 0.2, 0.9}) {
    const auto part = heard_part(offset_bins, 0.5);
    EXPECT_NEAR(part.real(), hann_lobe(offset_bins), 1e-9) << offset_bins;
    EXPECT_NEAR(part.imag(), 0.0, 1e-9) << offset_bins;
  }
}

TEST(HeardPart, IsTheSumOverWhatSounds) {
  constexpr int steps = 20000;
  for (const double inside : {-0.2, 0.1, 0.37}) {
    std::complex<double> sum = 0;
    for (int i = 0; i < steps; ++i) {
      const double u = -inside + (0.5 + inside) * (i + 0.5) / steps;  // in windows from the middle
      const double turn = 2.0 * std::numbers::pi * u;
      sum += (1.0 + std::cos(turn)) * std::polar(1.0, 0.4 * turn) * (0.5 + inside) / static_cast<double>(steps);
    }
    EXPECT_NEAR(std::abs(heard_part(0.4, inside) - sum), 0.0, 1e-8) << inside;
  }
}

std::vector<float> in_silence(std::vector<float> tone, double snr_db, std::uint64_t seed) {
  Random random(seed);
  const auto quiet = silence(rate_hz, start_s);
  auto samples = joined({quiet, tone, quiet});
  add_white_noise(samples, snr_db, random);
  return samples;
}

TEST(SuddenEnds, ASteadyToneIsMeasuredToWhereItBeginsAndStops) {
  for (const double duration_s : {0.3, 1.0}) {
    const auto tone = steady_tone({.rate_hz = rate_hz, .duration_s = duration_s});
    const auto holds = test::holds_in(in_silence(tone, 20.0, 3), rate_hz);
    ASSERT_EQ(holds.size(), 1U);
    EXPECT_NEAR(holds[0].steady_start_s, start_s, 0.016);
    EXPECT_NEAR(holds[0].steady_end_s, start_s + duration_s, 0.016);
    EXPECT_NEAR(cents_between(587.3295, holds[0].frequency_hz), 0.0, holds[0].frequency_u95_cents);
    // Frames that hear a part of the tone show its whole level.
    EXPECT_NEAR(holds[0].curve.front().level_db, holds[0].level_db, 0.6);
    EXPECT_NEAR(holds[0].curve.back().level_db, holds[0].level_db, 0.6);
  }
}

TEST(SuddenEnds, AScoopStaysOut) {
  // From 25 cents below, as e^(-t / 25 ms): three quarters of a cent are left after 90 ms.
  std::vector<float> tone(static_cast<std::size_t>(rate_hz));
  double turns = 0;
  for (std::size_t i = 0; i < tone.size(); ++i) {
    const double t_s = static_cast<double>(i) / rate_hz;
    tone[i] = static_cast<float>(0.3 * std::sin(2.0 * std::numbers::pi * turns));
    turns += hz_at_cents(600.0, -25.0 * std::exp(-t_s / 0.025)) / rate_hz;
  }
  const auto holds = test::holds_in(in_silence(tone, 40.0, 4), rate_hz);
  ASSERT_EQ(holds.size(), 1U);
  EXPECT_GT(holds[0].steady_start_s, start_s + 0.06);
  EXPECT_NEAR(cents_between(600.0, holds[0].frequency_hz), 0.0, 0.03);
}

TEST(SuddenEnds, AToneThatWandersKeepsItsMargins) {
  const auto tone = vibrato_tone({.rate_hz = rate_hz, .duration_s = 1.0, .f0_hz = 600.0}, 1.0, 8.0);
  const auto holds = test::holds_in(in_silence(tone, 40.0, 5), rate_hz);
  ASSERT_EQ(holds.size(), 1U);
  EXPECT_GT(holds[0].steady_start_s, start_s + 0.03);
  EXPECT_LT(holds[0].steady_end_s, start_s + 1.0 - 0.03);
}

}  // namespace
}  // namespace windway
