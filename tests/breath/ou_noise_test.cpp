// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/ou_noise.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway {
namespace {

TEST(VarianceOfMean, IsOneForAnInstantAndTwoTausOverALongTime) {
  EXPECT_NEAR(variance_of_mean(1e-9, 0.3), 1.0, 1e-6);
  EXPECT_NEAR(variance_of_mean(300.0, 0.3), 2.0 * 0.3 / 300.0, 3e-6);
}

TEST(VarianceOfMean, AgreesWithADoubleSumOverTheCorrelations) {
  constexpr int n = 1000;
  double sum = 0;
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) sum += std::exp(-std::abs(i - j) * (1.1 / n) / 0.3);
  EXPECT_NEAR(variance_of_mean(1.1, 0.3), sum / (n * n), 1e-5);
}

TEST(Regress, WithoutMemoryMeetsTheCertifiedNorrisLine) {
  // NIST Statistical Reference Datasets, Norris (linear regression, 36 pairs), certified values.
  const std::vector<double> x{0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
                              0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
                              0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
  const std::vector<double> y{0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
                              0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
                              0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
  std::vector<double> time_s;
  for (std::size_t i = 0; i < x.size(); ++i) time_s.push_back(static_cast<double>(i));
  const OuRegression fit = regress(time_s, y, {std::vector<double>(x.size(), 1.0), x}, {1e-3, 0.0, 0.0});
  EXPECT_NEAR(fit.coefficient[0], -0.262323073774029, 1e-9);
  EXPECT_NEAR(fit.coefficient[1], 1.00211681802045, 1e-11);
  EXPECT_NEAR(fit.sum_of_squares, 26.6173985294224, 1e-8);
  EXPECT_EQ(fit.degrees, 34.0);
  const double residual_sd = 0.884796396144373;
  EXPECT_NEAR(residual_sd * std::sqrt(fit.covariance[1][1]), 0.429796848199937e-3, 1e-11);
}

TEST(Regress, TwoPointsHaveTheDeterminantOfTheirCovariance) {
  const double tau_s = 0.3, dt_s = 0.1, white = 0.2;
  const OuRegression fit = regress({0.0, dt_s}, {1.0, 2.0}, {{1.0, 1.0}}, {tau_s, white, 0.0});
  const double r = std::exp(-dt_s / tau_s), v = 1.0 + white;
  const double information = (2 * v - 2 * r) / (v * v - r * r);  // 1' V^-1 1
  EXPECT_NEAR(fit.log_determinant, std::log(v * v - r * r) + std::log(information), 1e-12);
  EXPECT_NEAR(fit.coefficient[0], 1.5, 1e-12);
  EXPECT_NEAR(fit.sum_of_squares, 0.5 / (v - r), 1e-12);
}

TEST(Regress, MeansOverBlocksHaveTheirOwnCovariance) {
  const double tau_s = 0.3, block_s = 0.2, x = 0.5 * block_s / tau_s;
  // Of adjacent block means: variance_of_mean on the diagonal, beside it the correlation of the middles times
  // (sinh x / x)^2; `regress` scales both by the latter, which the noise's own size takes up.
  const double scale = std::pow(std::sinh(x) / x, 2);
  const double v = variance_of_mean(block_s, tau_s) / scale, r = std::exp(-block_s / tau_s);
  const OuRegression fit = regress({0.0, block_s}, {0.0, 1.0}, {{1.0, 1.0}}, {tau_s, 0.0, block_s});
  EXPECT_NEAR(fit.sum_of_squares, 0.5 / (v - r), 1e-12);
}

}  // namespace
}  // namespace windway
