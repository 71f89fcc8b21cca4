// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/one_factor.hpp"

#include <Eigen/Cholesky>
#include <cmath>
#include <numeric>

#include "statistics/likelihoods.hpp"

namespace windway {
namespace {

constexpr int sizes = 41;               ///< of the common variance that are tried
constexpr double widest_log_sds = 3.0;  ///< from the middle of the prior to each end of the grid
constexpr double prior_degrees = 2.0;   ///< of freedom, that the prior of an indicator's own error is worth
constexpr int passes = 30;

/// Log likelihood of a common variance, with the errors that fit best beside it (expectation maximisation: D. B. Rubin
/// and D. T. Thayer, Psychometrika 47 (1982) 69) and their prior.
double log_likelihood(const Eigen::MatrixXd& seen, const Eigen::VectorXd& prior_variance, double degrees,
                      double common) {
  const Eigen::Index n = seen.rows();
  Eigen::VectorXd own = prior_variance;
  Eigen::MatrixXd total;
  for (int pass = 0; pass < passes; ++pass) {
    total = common * Eigen::MatrixXd::Ones(n, n) + Eigen::MatrixXd(own.asDiagonal());
    const Eigen::VectorXd gain = total.ldlt().solve(common * Eigen::VectorXd::Ones(n));
    const Eigen::VectorXd with_seen = seen * gain;
    const double square = gain.dot(with_seen) + common * (1.0 - gain.sum());
    own = (degrees * (seen.diagonal() - 2.0 * with_seen + Eigen::VectorXd::Constant(n, square)) +
           prior_degrees * prior_variance) /
          (degrees + prior_degrees);
  }
  total = common * Eigen::MatrixXd::Ones(n, n) + Eigen::MatrixXd(own.asDiagonal());
  const Eigen::LDLT<Eigen::MatrixXd> solver(total);
  const double errors = (own.array().log() + prior_variance.array() / own.array()).sum();
  return -0.5 *
         (degrees * (solver.vectorD().array().log().sum() + solver.solve(seen).trace()) + prior_degrees * errors);
}

}  // namespace

double common_variance(const std::vector<std::vector<double>>& covariance, const std::vector<double>& error_sd,
                       double degrees, const SdPrior& prior, double known_variance) {
  const auto n = static_cast<Eigen::Index>(error_sd.size());
  Eigen::MatrixXd seen(n, n);
  Eigen::VectorXd prior_variance(n);
  for (Eigen::Index a = 0; a < n; ++a) {
    prior_variance[a] = std::pow(error_sd[static_cast<std::size_t>(a)], 2);
    for (Eigen::Index b = 0; b < n; ++b)
      seen(a, b) = covariance[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)];
  }
  std::vector<double> log_weight, variance;
  for (int i = 0; i < sizes; ++i) {
    const double off = widest_log_sds * (2.0 * i / (sizes - 1) - 1.0);
    variance.push_back(std::pow(prior.sd * std::exp(off * prior.log_sd), 2));
    const double common = variance.back() + known_variance;
    log_weight.push_back(-0.5 * off * off + (n > 0 ? log_likelihood(seen, prior_variance, degrees, common) : 0.0));
  }
  const std::vector<double> weight = relative_likelihoods(log_weight);
  return std::inner_product(weight.begin(), weight.end(), variance.begin(), 0.0) /
         std::accumulate(weight.begin(), weight.end(), 0.0);
}

}  // namespace windway
