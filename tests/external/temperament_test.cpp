// SPDX-License-Identifier: GPL-3.0-or-later
// Temperaments against published tables: interval sizes by A. J. Ellis in H. L. F. Helmholtz, On the Sensations of Tone
// (2nd English ed. 1885), app. XX (from memory); as tabulated, to small integers, by teoria.com ("Cents", 2020).
#include "instrument/temperament.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "instrument/note.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

std::array<double, 12> cents_of(TemperamentName name) { return cents_above_key({name, 0, {}}); }

struct Interval {
  std::size_t semitones;
  double just, pythagorean, meantone;
};

// Chains of fifths from E flat to G sharp on C; just ratios 16/15, 9/8, 6/5, 5/4, 4/3, 45/32, 3/2, 8/5, 5/3, 9/5, 15/8.
constexpr std::array<Interval, 12> published{{{0, 0, 0, 0},
                                              {1, 111.7313, 113.685, 76.049},
                                              {2, 203.9100, 203.910, 193.157},
                                              {3, 315.6413, 294.135, 310.265},
                                              {4, 386.3137, 407.820, 386.314},
                                              {5, 498.0450, 498.045, 503.422},
                                              {6, 590.2237, 611.730, 579.471},
                                              {7, 701.9550, 701.955, 696.578},
                                              {8, 813.6863, 815.640, 772.627},
                                              {9, 884.3587, 905.865, 889.735},
                                              {10, 1017.5963, 996.090, 1006.843},
                                              {11, 1088.2687, 1109.775, 1082.892}}};

TEST(Temperament, HasThePublishedIntervals) {
  for (const Interval& interval : published) {
    EXPECT_NEAR(cents_of(TemperamentName::just)[interval.semitones], interval.just, 6e-5);
    EXPECT_NEAR(cents_of(TemperamentName::pythagorean)[interval.semitones], interval.pythagorean, 6e-4);
    EXPECT_NEAR(cents_of(TemperamentName::meantone)[interval.semitones], interval.meantone, 6e-4);
    EXPECT_EQ(cents_of(TemperamentName::equal)[interval.semitones], 100.0 * static_cast<double>(interval.semitones));
  }
}

TEST(Temperament, LeavesThePublishedCommasAndWolves) {
  const auto just = cents_of(TemperamentName::just);
  const auto pythagorean = cents_of(TemperamentName::pythagorean);
  const auto meantone = cents_of(TemperamentName::meantone);
  EXPECT_NEAR(pythagorean[4] - just[4], 21.50629, 1e-5);                  // syntonic comma
  EXPECT_NEAR(12 * pythagorean[7] - 8400.0, 23.46001, 1e-5);              // Pythagorean comma, seven octaves
  EXPECT_NEAR(pythagorean[3] + 1200.0 - pythagorean[8], 678.4950, 1e-4);  // wolf, G sharp to E flat
  EXPECT_NEAR(meantone[3] + 1200.0 - meantone[8], 737.6373, 1e-4);
  // Down the chain: D flat and A flat, a diatonic semitone above C and G.
  EXPECT_NEAR(1200.0 * 3 - 5 * pythagorean[7], 90.225, 1e-3);
  EXPECT_NEAR(1200.0 * 3 - 4 * pythagorean[7], 792.180, 1e-3);
  EXPECT_NEAR(1200.0 * 3 - 5 * meantone[7], 117.108, 1e-3);
  EXPECT_NEAR(1200.0 * 3 - 4 * meantone[7], 813.686, 1e-3);
  EXPECT_NEAR(8400.0 - 12 * meantone[7], 41.059, 1e-3);  // twelve meantone fifths miss seven octaves
}

TEST(Temperament, DiffersFromEqualAsMusiciansTablesSay) {
  // Major scale on C, rounded: teoria.com (2020).
  const std::array<std::size_t, 6> degrees{2, 4, 5, 7, 9, 11};
  const std::array<int, 6> just{4, -14, -2, 2, -16, -12}, meantone{-7, -14, 3, -3, -10, -17};
  for (std::size_t i = 0; i < degrees.size(); ++i) {
    const double equal = 100.0 * static_cast<double>(degrees[i]);
    EXPECT_EQ(std::lround(cents_of(TemperamentName::just)[degrees[i]] - equal), just[i]);
    EXPECT_EQ(std::lround(cents_of(TemperamentName::meantone)[degrees[i]] - equal), meantone[i]);
  }
}

TEST(Temperament, KeepsA4AtTheReferencePitchInEveryKey) {
  for (const auto name : {TemperamentName::just, TemperamentName::pythagorean, TemperamentName::meantone})
    for (int key = 0; key < 12; ++key) {
      const Tuning tuning{441.3, {name, key, {}}};
      EXPECT_NEAR(target_hz(69, tuning), 441.3, 1e-9);
      EXPECT_NEAR(target_hz(81, tuning), 882.6, 1e-9);
      // A fifth over the key note is the temperament's own fifth.
      EXPECT_NEAR(cents_between(target_hz(60 + key, tuning), target_hz(67 + key, tuning)), cents_of(name)[7], 1e-9);
    }
}

}  // namespace
}  // namespace windway
