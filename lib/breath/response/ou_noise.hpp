// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace windway {

/// A wander that forgets itself: variance 1, correlation exp(-dt / tau_s) (Uhlenbeck and Ornstein, Phys. Rev. 36
/// (1930) 823), read in means over `read_over_s` with white noise of variance `white_share`.
struct OuNoise {
  double tau_s = 0.3;
  double white_share = 0.1;
  double read_over_s = 0;
};

/// What a generalised least squares fit under OuNoise of unknown size leaves.
struct OuScatter {
  double sum_of_squares = 0;   ///< whitened residuals
  double degrees = 0;          ///< points less coefficients
  double log_determinant = 0;  ///< of the noise covariance and of the information: what REML asks for
};

struct OuRegression : OuScatter {
  std::vector<double> coefficient;
  std::vector<std::vector<double>> covariance;  ///< of the coefficients for noise of variance 1
};

/// Fits `value` by the columns; rows at `time_s`, ascending, unevenly spaced where need be. Whitens with a Kalman
/// filter, so that the cost is linear in the points (Harvey and Phillips, Biometrika 66 (1979) 49).
OuRegression regress(const std::vector<double>& time_s, const std::vector<double>& value,
                     const std::vector<std::vector<double>>& columns, const OuNoise& noise);

/// The scatter of the same fit alone, several times as fast: asked of every hold for every shape of wander. Values far
/// larger than their scatter (by 1e5 and more) lose digits of it here.
OuScatter scatter_about(const std::vector<double>& time_s, const std::vector<double>& value,
                        const std::vector<std::vector<double>>& columns, const OuNoise& noise);

/// Variance of the mean over `length_s` of an OU wander of variance 1.
double variance_of_mean(double length_s, double tau_s);

}  // namespace windway
