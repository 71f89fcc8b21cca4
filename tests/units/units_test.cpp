// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/units.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

// ISO 16:1975 sets A4 at 440 Hz (from memory); the cents of the other pitches are arithmetic, 1200 log2(f / 440).
TEST(CentsBetween, PlacesTheReferencePitchesInUse) {
  EXPECT_NEAR(cents_between(440, 435), -19.7857, 5e-5);
  EXPECT_NEAR(cents_between(440, 442), 7.8514, 5e-5);
  EXPECT_NEAR(cents_between(440, 443), 11.7638, 5e-5);
  EXPECT_NEAR(cents_between(440, 415), -101.2706, 5e-5);
  EXPECT_NEAR(cents_between(440, 466), 99.3917, 5e-5);
  EXPECT_EQ(cents_between(440, 440), 0.0);
}

// One cent is the ratio 2^(1/1200) = 1.0005777895: tonalsoft.com/sonic-arts/dict/cents.htm.
TEST(HzAtCents, MakesOneCentTheTwelveHundredthRootOfTwo) {
  EXPECT_NEAR(hz_at_cents(1, 1), 1.0005777895, 5e-11);
  EXPECT_NEAR(hz_at_cents(440, 1200), 880, 1e-10);
  EXPECT_NEAR(hz_at_cents(440, 1) - 440, 0.25423, 5e-5);  // rounded from 0.254227
  EXPECT_NEAR(hz_at_cents(587.330, 1) - 587.330, 0.33935, 5e-6);
}

// A. J. Ellis's hand approximation, cents = 3477 (n - d) / (n + d) for ratios below 4:3, read in the tuning list's
// archive (mills-tuning-list, topic 430); within half a per cent of the exact value.
TEST(CentsBetween, AgreesWithEllissHandRule) {
  for (const double n : {441.0, 450.0, 466.0, 495.0, 520.0}) {
    const double by_hand_cents = 3477 * (n - 440) / (n + 440);
    EXPECT_NEAR(cents_between(440, n), by_hand_cents, 0.005 * by_hand_cents) << n;
  }
  EXPECT_NEAR(cents_between(440, 441), 3.9302, 5e-5);
}

// Just intervals in cents as tabled by teoria.com/en/articles/2020/cents/09.php and by arithmetic.
TEST(CentsBetween, GivesTheJustIntervals) {
  EXPECT_NEAR(cents_between(1, 3.0 / 2), 701.9550, 5e-5);
  EXPECT_NEAR(cents_between(1, 4.0 / 3), 498.0450, 5e-5);
  EXPECT_NEAR(cents_between(1, 5.0 / 4), 386.3137, 5e-5);
  EXPECT_NEAR(cents_between(1, 6.0 / 5), 315.6413, 5e-5);
  EXPECT_NEAR(cents_between(80, 81), 21.50629, 5e-6);  // the syntonic comma
}

// A sample rate of 44.1 kHz read as 48 kHz: arithmetic.
TEST(CentsBetween, RecognisesAMistakenSampleRate) { EXPECT_NEAR(cents_between(44100, 48000), 146.7069, 5e-5); }

TEST(HzAtCents, UndoesCentsBetween) {
  for (const double hz : {8.1758, 261.626, 440.0, 12543.854}) {
    EXPECT_NEAR(hz_at_cents(440, cents_between(440, hz)), hz, 1e-9 * hz);
  }
}

TEST(Decibels, CountTwentyForAnAmplitudeAndTenForAPower) {
  EXPECT_NEAR(db_from_amplitude(10), 20, 1e-12);
  EXPECT_NEAR(db_from_power(10), 10, 1e-12);
  EXPECT_NEAR(db_from_amplitude(0.5), -6.0206, 5e-5);
  EXPECT_NEAR(amplitude_from_db(db_from_amplitude(0.37)), 0.37, 1e-12);
  EXPECT_NEAR(power_from_db(db_from_power(0.37)), 0.37, 1e-12);
}

// The 97.5th percentile of the normal distribution, 1.960: JCGM 100:2008, table G.1 (its line for 95 %).
TEST(NormalU95Factor, LeavesAFortiethOnEitherSide) {
  EXPECT_NEAR(normal_u95_factor, 1.960, 5e-4);
  EXPECT_NEAR(0.5 * std::erfc(normal_u95_factor / std::numbers::sqrt2), 0.025, 1e-12);
}

}  // namespace
}  // namespace windway
