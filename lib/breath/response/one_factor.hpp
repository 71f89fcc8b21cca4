// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace windway {

/// Log-normal prior of a standard deviation.
struct SdPrior {
  double sd = 0;      ///< its median
  double log_sd = 0;  ///< SD of its natural logarithm
};

/// Posterior mean of the variance of a quantity that several noisy indicators share (the one-factor model of D. N.
/// Lawley and A. E. Maxwell, Factor Analysis as a Statistical Method (1971), from memory). `covariance` is that of the
/// indicators over `degrees` degrees of freedom, `error_sd` the prior SD of each one's own error. `known_variance` is
/// shared too, but no part of the answer. Without indicators: the mean of the prior.
double common_variance(const std::vector<std::vector<double>>& covariance, const std::vector<double>& error_sd,
                       double degrees, const SdPrior& prior, double known_variance);

}  // namespace windway
