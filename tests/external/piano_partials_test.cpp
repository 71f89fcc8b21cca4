// SPDX-License-Identifier: GPL-3.0-or-later
// Partials of single strings of a grand piano as measured by another: the University of Alabama in Huntsville's pages
// on the piano (daffy.uah.edu/piano, pages 4 and 8; its formula after H. Fletcher, E. D. Blackham and R. Stratton, JASA
// 34 (1962) 749). Given to a tenth of a hertz for A4 and a hundredth for A3.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "partner/stiff_string.hpp"
#include "units/units.hpp"

namespace windway::external_tests {
namespace {

std::vector<PartialFrequency> measured(const std::vector<double>& hz, double resolution_hz) {
  std::vector<PartialFrequency> partials;
  for (const double each : hz)
    partials.push_back({static_cast<int>(partials.size()) + 1, each, resolution_hz / std::sqrt(12.0)});
  return partials;
}

const std::vector<double> a4_hz{440.0, 880.9, 1323.9, 1769.8, 2219.7, 2674.6, 3135.4, 3603.1};
const std::vector<double> a3_hz{219.79, 439.83, 660.00, 880.66, 1101.82, 1323.99, 1546.78, 1770.32};

TEST(PianoPartials, OfA4GiveThePublishedStiffnessAndTheFirstPartial) {
  const auto fitted = fit_stiff_string(measured(a4_hz, 0.1));
  ASSERT_TRUE(fitted && fitted->inharmonicity);
  EXPECT_NEAR(fitted->inharmonicity->value, 7.5145e-4, 0.02 * 7.5145e-4);
  EXPECT_NEAR(fitted->first_hz, 440.0, 0.05);
}

TEST(PianoPartials, OfA3GiveTheStiffnessAndTheFirstPartial) {
  const auto fitted = fit_stiff_string(measured(a3_hz, 0.01));
  ASSERT_TRUE(fitted && fitted->inharmonicity);
  EXPECT_NEAR(fitted->inharmonicity->value, 2.164e-4, 0.02 * 2.164e-4);
  EXPECT_NEAR(fitted->first_hz, 219.79, 0.03);
}

// The fault that the fit is there to avoid.
TEST(PianoPartials, AveragedOverTheirNumbersWouldReadFifteenCentsSharp) {
  double sum_cents = 0;
  for (std::size_t i = 0; i < a4_hz.size(); ++i)
    sum_cents += cents_between(440.0, a4_hz[i] / static_cast<double>(i + 1));
  EXPECT_NEAR(sum_cents / static_cast<double>(a4_hz.size()), 15.7, 0.1);
}

}  // namespace
}  // namespace windway::external_tests
