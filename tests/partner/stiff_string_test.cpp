// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/stiff_string.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

double partial_hz(double first_hz, double stiffness, int number) {
  const double n = number;
  return n * first_hz * std::sqrt((1.0 + stiffness * n * n) / (1.0 + stiffness));
}

std::vector<PartialFrequency> string_of(double first_hz, double stiffness, int partials) {
  std::vector<PartialFrequency> list;
  for (int n = 1; n <= partials; ++n) list.push_back({n, partial_hz(first_hz, stiffness, n), 0.01});
  return list;
}

TEST(FitStiffString, FindsPitchAndStiffnessOfAStringThatKeepsTheLaw) {
  for (const double stiffness : {0.0, 1e-4, 5e-4, 1e-3, 3e-3}) {
    const auto fitted = fit_stiff_string(string_of(523.25, stiffness, 8));
    ASSERT_TRUE(fitted && fitted->inharmonicity);
    EXPECT_NEAR(cents_between(523.25, fitted->first_hz), 0.0, 1e-6);
    EXPECT_NEAR(fitted->inharmonicity->value, stiffness, 1e-9);
    EXPECT_EQ(fitted->partials, 8);
  }
}

// Averaging f_n / n of this string would read 15 cents sharp.
TEST(FitStiffString, IsNotDrawnSharpByTheHigherPartials) {
  std::vector<PartialFrequency> partials = string_of(440.0, 7.5e-4, 8);
  partials.erase(partials.begin());
  const auto fitted = fit_stiff_string(partials);
  ASSERT_TRUE(fitted);
  EXPECT_NEAR(cents_between(440.0, fitted->first_hz), 0.0, 1e-3);
}

TEST(FitStiffString, IsHardlyMovedByOnePartialThatIsAnotherNotes) {
  std::vector<PartialFrequency> partials = string_of(440.0, 5e-4, 8);
  partials[4].hz = hz_at_cents(partials[4].hz, 12.0);
  const auto fitted = fit_stiff_string(partials);
  ASSERT_TRUE(fitted);
  EXPECT_NEAR(cents_between(440.0, fitted->first_hz), 0.0, 0.25);
  EXPECT_LT(std::abs(cents_between(440.0, fitted->first_hz)), fitted->first_u95_cents);
}

TEST(FitStiffString, StatesAnUncertaintyThatHoldsTheTruthInNineteenOfTwenty) {
  synthesis::Random random(4);
  constexpr int strings = 2000;
  int held = 0, held_stiffness = 0;
  for (int i = 0; i < strings; ++i) {
    std::vector<PartialFrequency> partials = string_of(440.0, 5e-4, 7);
    for (PartialFrequency& partial : partials) {
      partial.sd_hz = 0.05;
      const double soundboard = partial.number > 1 ? random.normal(0.0, 0.3) : random.normal(0.0, 0.1);
      partial.hz = hz_at_cents(partial.hz + random.normal(0.0, 0.05), soundboard);
    }
    const auto fitted = fit_stiff_string(partials);
    held += std::abs(cents_between(440.0, fitted->first_hz)) <= fitted->first_u95_cents ? 1 : 0;
    held_stiffness += std::abs(fitted->inharmonicity->value - 5e-4) <= fitted->inharmonicity->u95 ? 1 : 0;
  }
  EXPECT_NEAR(100.0 * held / strings, 95.5, 2.5);
  EXPECT_NEAR(100.0 * held_stiffness / strings, 95.5, 2.5);
}

TEST(FitStiffString, TakesAFirstPartialAloneAsItIs) {
  const auto fitted = fit_stiff_string({{2, 880.9, 0.05}, {1, 440.0, 0.05}});
  ASSERT_TRUE(fitted);
  EXPECT_FALSE(fitted->inharmonicity);
  const auto alone = fit_stiff_string({{1, 440.0, 0.05}});
  ASSERT_TRUE(alone);
  EXPECT_EQ(alone->first_hz, 440.0);
}

TEST(FitStiffString, SaysOfAHigherPartialAloneHowLittleItTells) {
  const auto alone = fit_stiff_string({{3, partial_hz(440.0, 5e-4, 3), 0.01}});
  ASSERT_TRUE(alone);
  EXPECT_LT(std::abs(cents_between(440.0, alone->first_hz)), alone->first_u95_cents);
  EXPECT_GT(alone->first_u95_cents, 2.0);
}

TEST(FitStiffString, GivesNothingForNoPartials) {
  EXPECT_FALSE(fit_stiff_string({}));
  EXPECT_FALSE(fit_harmonics({}));
}

TEST(FitHarmonics, TakesWholeMultiplesForOnePitch) {
  const auto fitted = fit_harmonics(string_of(392.0, 0.0, 2));
  ASSERT_TRUE(fitted);
  EXPECT_NEAR(fitted->first_hz, 392.0, 1e-9);
  EXPECT_FALSE(fitted->inharmonicity);
}

}  // namespace
}  // namespace windway
