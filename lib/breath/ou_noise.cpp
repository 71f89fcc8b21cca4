// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/ou_noise.hpp"

#include <Eigen/Dense>
#include <cmath>

namespace windway {
namespace {

/// Innovations of every column (the value is the last one), each over its standard deviation.
struct Whitened {
  Eigen::MatrixXd rows;
  double log_determinant = 0;
};

Whitened whiten(const std::vector<double>& time_s, const Eigen::MatrixXd& columns, const OuNoise& noise) {
  Whitened white{columns, 0.0};
  Eigen::RowVectorXd state = Eigen::RowVectorXd::Zero(columns.cols());
  double variance = 1.0;
  for (Eigen::Index i = 0; i < columns.rows(); ++i) {
    const double innovation_variance = variance + noise.white_share;
    const Eigen::RowVectorXd innovation = columns.row(i) - state;
    white.rows.row(i) = innovation / std::sqrt(innovation_variance);
    white.log_determinant += std::log(innovation_variance);
    const double gain = variance / innovation_variance;
    const auto at = static_cast<std::size_t>(i);
    const double step_s = at + 1 < time_s.size() ? time_s[at + 1] - time_s[at] : 0.0;
    const double kept = std::exp(-step_s / noise.tau_s);
    state = kept * (state + gain * innovation);
    variance = kept * kept * variance * (1.0 - gain) + 1.0 - kept * kept;
  }
  return white;
}

Eigen::MatrixXd as_matrix(const std::vector<std::vector<double>>& columns, const std::vector<double>& value) {
  const auto n = static_cast<Eigen::Index>(value.size());
  Eigen::MatrixXd m(n, static_cast<Eigen::Index>(columns.size()) + 1);
  for (std::size_t c = 0; c < columns.size(); ++c)
    m.col(static_cast<Eigen::Index>(c)) = Eigen::Map<const Eigen::VectorXd>(columns[c].data(), n);
  m.col(m.cols() - 1) = Eigen::Map<const Eigen::VectorXd>(value.data(), n);
  return m;
}

}  // namespace

OuRegression regress(const std::vector<double>& time_s, const std::vector<double>& value,
                     const std::vector<std::vector<double>>& columns, const OuNoise& noise,
                     const std::vector<CoefficientPrior>& priors) {
  const Whitened white = whiten(time_s, as_matrix(columns, value), noise);
  const auto p = static_cast<Eigen::Index>(columns.size());
  const Eigen::MatrixXd design = white.rows.leftCols(p);
  const Eigen::VectorXd right = white.rows.col(p);
  Eigen::MatrixXd information = design.transpose() * design;
  Eigen::VectorXd pull = design.transpose() * right;
  for (const CoefficientPrior& prior : priors) {
    const auto c = static_cast<Eigen::Index>(prior.column);
    information(c, c) += 1.0 / prior.variance;
    pull(c) += prior.mean / prior.variance;
  }
  const Eigen::LDLT<Eigen::MatrixXd> solver(information);
  const Eigen::VectorXd solved = solver.solve(pull);
  const Eigen::MatrixXd covariance = solver.solve(Eigen::MatrixXd::Identity(p, p));
  OuRegression result;
  result.coefficient.assign(solved.begin(), solved.end());
  for (Eigen::Index r = 0; r < p; ++r) {
    const Eigen::VectorXd row = covariance.row(r);
    result.covariance.emplace_back(row.begin(), row.end());
  }
  result.sum_of_squares = (right - design * solved).squaredNorm();
  result.degrees = static_cast<double>(value.size()) - static_cast<double>(p);
  result.log_determinant = white.log_determinant + solver.vectorD().array().abs().max(1e-300).log().sum();
  return result;
}

double variance_of_mean(double length_s, double tau_s) {
  const double ratio = length_s / tau_s;
  if (ratio < 1e-6) return 1.0;
  return 2.0 / ratio * (1.0 - (1.0 - std::exp(-ratio)) / ratio);
}

}  // namespace windway
