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

/// Means over a while have the covariance of the wander itself but for a scale and for too little on the diagonal: as
/// if white noise of this (negative) variance were added. The filter stays an exact factorisation of that covariance.
double missing_diagonal(const OuNoise& noise) {
  if (noise.read_over_s <= 0) return 0.0;
  const double x = 0.5 * noise.read_over_s / noise.tau_s;
  const double scale = std::pow(std::sinh(x) / x, 2);
  return variance_of_mean(noise.read_over_s, noise.tau_s) / scale - 1.0;
}

Whitened whiten(const std::vector<double>& time_s, const Eigen::MatrixXd& columns, const OuNoise& noise) {
  Whitened white{columns, 0.0};
  Eigen::RowVectorXd state = Eigen::RowVectorXd::Zero(columns.cols());
  double variance = 1.0;
  const double diagonal = noise.white_share + missing_diagonal(noise);
  for (Eigen::Index i = 0; i < columns.rows(); ++i) {
    const double innovation_variance = variance + diagonal;
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
                     const std::vector<std::vector<double>>& columns, const OuNoise& noise) {
  const Whitened white = whiten(time_s, as_matrix(columns, value), noise);
  const auto p = static_cast<Eigen::Index>(columns.size());
  const Eigen::MatrixXd design = white.rows.leftCols(p);
  const Eigen::VectorXd right = white.rows.col(p);
  const Eigen::MatrixXd information = design.transpose() * design;
  const Eigen::LDLT<Eigen::MatrixXd> solver(information);
  const Eigen::VectorXd solved = solver.solve(design.transpose() * right);
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
