// SPDX-License-Identifier: GPL-3.0-or-later
// The regression behind drift, wander and swells against the certified values of a linear fit: NIST Statistical
// Reference Datasets, Linear Regression, Norris.dat (J. Norris, NIST, calibration of ozone monitors;
// itl.nist.gov/div898/strd).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "breath/response/ou_noise.hpp"

namespace windway {
namespace {

const std::vector<double> norris_x{0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
                                   0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
                                   0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
const std::vector<double> norris_y{0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
                                   0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
                                   0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};

/// The straight line through Norris's points. They stand a million correlation times apart: nothing of the wander is
/// left from one to the next, and the generalised least squares must be the ordinary.
OuRegression straight_line(const OuNoise& noise) {
  std::vector<double> time_s;
  for (std::size_t i = 0; i < norris_x.size(); ++i) time_s.push_back(1e6 * static_cast<double>(i));
  return regress(time_s, norris_y, {std::vector<double>(norris_x.size(), 1.0), norris_x}, noise);
}

double standard_error(const OuRegression& fit, std::size_t coefficient) {
  return std::sqrt(fit.covariance[coefficient][coefficient] * fit.sum_of_squares / fit.degrees);
}

constexpr double digits = 1e-10;  // relative; double-precision normal equations

void expect_certified(const OuRegression& fit) {
  constexpr std::array<double, 2> b{-0.262323073774029, 1.00211681802045};
  constexpr std::array<double, 2> sd{0.232818234301152, 0.429796848199937e-3};
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_NEAR(fit.coefficient[i] / b[i], 1.0, digits) << "B" << i;
    EXPECT_NEAR(standard_error(fit, i) / sd[i], 1.0, digits) << "standard deviation of B" << i;
  }
  EXPECT_EQ(fit.degrees, 34);
}

TEST(Regression, IsThatOfNorrisWherePointsAreIndependent) {
  const OuRegression fit = straight_line({.tau_s = 1.0, .white_share = 0.0});
  expect_certified(fit);
  EXPECT_NEAR(fit.sum_of_squares / 26.6173985294224, 1.0, digits);
  EXPECT_NEAR(std::sqrt(fit.sum_of_squares / fit.degrees) / 0.884796396144373, 1.0, digits);
}

TEST(Regression, OfIndependentPointsDoesNotAskHowMuchOfTheNoiseIsWhite) {
  const OuRegression fit = straight_line({.tau_s = 1.0, .white_share = 3.0});
  expect_certified(fit);
  EXPECT_NEAR(fit.sum_of_squares * 4.0 / 26.6173985294224, 1.0, digits);  // noise of variance 1 + 3
}

}  // namespace
}  // namespace windway
