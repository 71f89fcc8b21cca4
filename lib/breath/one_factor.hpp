// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace windway {

/// What is believed of a standard deviation before anything is seen: its logarithm is normal about that of `sd`.
struct FactorBelief {
  double sd = 0;
  double log_sd = 0;
};

/// Several witnesses of one quantity, each with errors of its own: how much the quantity itself varies, as what they
/// have in common tells. `seen` is the witnesses' covariance over `degrees` degrees of freedom, `own_sd` what is
/// believed of their own errors beforehand, `known_variance` is common to them too but not asked. Gives the mean of the
/// variance over all that are possible (Bayes; the one-factor model of D. N. Lawley and A. E. Maxwell, Factor Analysis
/// as a Statistical Method (1971), from memory), so that few degrees give a wide answer. No witness: the belief.
double common_variance(const std::vector<std::vector<double>>& seen, const std::vector<double>& own_sd, double degrees,
                       const FactorBelief& belief, double known_variance);

}  // namespace windway
