// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/ou_noise.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace windway {
namespace {

/// One moment's values of all columns. Room for most_columns without asking for memory.
constexpr int most_columns = 8;
using Row = Eigen::Matrix<double, 1, Eigen::Dynamic, Eigen::RowMajor, 1, most_columns>;
using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor, Eigen::Dynamic, most_columns>;
using Square = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, most_columns, most_columns>;
using Column = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, most_columns, 1>;

/// Innovations of every column (the value is the last one), each over its standard deviation.
struct Whitened {
  Rows rows;
  double log_determinant = 0;
};

/// Sum of logarithms: factors are multiplied as long as their product stays well inside what a double holds.
class LogSum {
 public:
  void add_log_of(double factor) {
    product_ *= factor;
    if (product_ > 1e-100 && product_ < 1e100) return;
    sum_ += std::log(product_);
    product_ = 1.0;
  }
  double sum() const { return sum_ + std::log(product_); }

 private:
  double sum_ = 0;
  double product_ = 1;
};

/// How much of a wander is left after a step. Steps are equal within an unbroken stretch but for rounding, so most need
/// no exponential of their own.
class Kept {
 public:
  explicit Kept(double tau_s) : tau_s_(tau_s) {}
  double after(double step_s) {
    constexpr double same_step_s = 1e-9;
    if (std::abs(step_s - step_s_) > same_step_s) {
      step_s_ = step_s;
      kept_ = std::exp(-step_s / tau_s_);
    }
    return kept_;
  }

 private:
  double tau_s_;
  double step_s_ = 0;
  double kept_ = 1;
};

/// Means over a while have the covariance of the wander itself but for a scale and for too little on the diagonal: as
/// if white noise of this (negative) variance were added. The filter stays an exact factorisation of that covariance.
double missing_diagonal(const OuNoise& noise) {
  if (noise.read_over_s <= 0) return 0.0;
  const double x = 0.5 * noise.read_over_s / noise.tau_s;
  const double scale = std::pow(std::sinh(x) / x, 2);
  return variance_of_mean(noise.read_over_s, noise.tau_s) / scale - 1.0;
}

/// The Kalman filter of the wander, as far as it does not hang on what is filtered: point by point.
class OuFilter {
 public:
  OuFilter(const std::vector<double>& time_s, const OuNoise& noise)
      : time_s_(time_s), diagonal_(noise.white_share + missing_diagonal(noise)), kept_after_(noise.tau_s) {}

  struct Point {
    double innovation_variance, gain, kept;
  };
  Point next() {
    const double step_s = at_ + 1 < time_s_.size() ? time_s_[at_ + 1] - time_s_[at_] : 0.0;
    ++at_;
    const double innovation_variance = variance_ + diagonal_;
    const double gain = variance_ / innovation_variance;
    const double kept = kept_after_.after(step_s);
    variance_ = kept * kept * variance_ * (1.0 - gain) + 1.0 - kept * kept;
    return {innovation_variance, gain, kept};
  }

 private:
  const std::vector<double>& time_s_;
  double diagonal_;
  Kept kept_after_;
  double variance_ = 1.0;
  std::size_t at_ = 0;
};

Whitened whiten(const std::vector<double>& time_s, Rows columns, const OuNoise& noise) {
  Whitened white{std::move(columns), 0.0};
  Row state = Row::Zero(white.rows.cols());
  OuFilter filter(time_s, noise);
  LogSum log_determinant;
  for (Eigen::Index i = 0; i < white.rows.rows(); ++i) {
    const OuFilter::Point point = filter.next();
    const Row innovation = white.rows.row(i) - state;
    white.rows.row(i) = innovation / std::sqrt(point.innovation_variance);
    log_determinant.add_log_of(point.innovation_variance);
    state = point.kept * (state + point.gain * innovation);
  }
  white.log_determinant = log_determinant.sum();
  return white;
}

Rows as_rows(const std::vector<std::vector<double>>& columns, const std::vector<double>& value) {
  const auto n = static_cast<Eigen::Index>(value.size());
  Rows rows(n, static_cast<Eigen::Index>(columns.size()) + 1);
  for (std::size_t c = 0; c < columns.size(); ++c)
    rows.col(static_cast<Eigen::Index>(c)) = Eigen::Map<const Eigen::VectorXd>(columns[c].data(), n);
  rows.col(rows.cols() - 1) = Eigen::Map<const Eigen::VectorXd>(value.data(), n);
  return rows;
}

/// Whitened products of all columns (the value is the last one) are all that the scatter hangs on.
template <int columns_count>
OuScatter scatter(const std::vector<double>& time_s, const std::vector<double>& value,
                  const std::vector<std::vector<double>>& columns, const OuNoise& noise) {
  constexpr int p = columns_count;
  using Point = Eigen::Matrix<double, p + 1, 1>;
  Eigen::Matrix<double, p + 1, p + 1> products = Eigen::Matrix<double, p + 1, p + 1>::Zero();
  Point state = Point::Zero();
  OuFilter filter(time_s, noise);
  LogSum log_determinant;
  for (std::size_t i = 0; i < value.size(); ++i) {
    Point innovation = -state;
    for (int c = 0; c < p; ++c) innovation(c) += columns[static_cast<std::size_t>(c)][i];
    innovation(p) += value[i];
    const OuFilter::Point point = filter.next();
    products += innovation * (innovation / point.innovation_variance).transpose();
    log_determinant.add_log_of(point.innovation_variance);
    state = point.kept * (state + point.gain * innovation);
  }
  const Eigen::Matrix<double, p, 1> right = products.template topRightCorner<p, 1>();
  const Eigen::LDLT<Eigen::Matrix<double, p, p>> solver(products.template topLeftCorner<p, p>());
  return {std::max(0.0, products(p, p) - right.dot(solver.solve(right))), static_cast<double>(value.size()) - p,
          log_determinant.sum() + solver.vectorD().array().abs().max(1e-300).log().sum()};
}

}  // namespace

OuRegression regress(const std::vector<double>& time_s, const std::vector<double>& value,
                     const std::vector<std::vector<double>>& columns, const OuNoise& noise) {
  assert(columns.size() < most_columns);
  const Whitened white = whiten(time_s, as_rows(columns, value), noise);
  const auto p = static_cast<Eigen::Index>(columns.size());
  const auto design = white.rows.leftCols(p);
  const auto right = white.rows.col(p);
  const Square information = design.transpose().lazyProduct(design);  // too small for the blocks of a usual product
  const Eigen::LDLT<Square> solver(information);
  const Column solved = solver.solve(design.transpose().lazyProduct(right));
  const Square covariance = solver.solve(Square::Identity(p, p));
  OuRegression result;
  result.coefficient.assign(solved.begin(), solved.end());
  for (Eigen::Index r = 0; r < p; ++r) {
    const Row row = covariance.row(r);
    result.covariance.emplace_back(row.begin(), row.end());
  }
  result.sum_of_squares = (right - design.lazyProduct(solved)).squaredNorm();
  result.degrees = static_cast<double>(value.size()) - static_cast<double>(p);
  result.log_determinant = white.log_determinant + solver.vectorD().array().abs().max(1e-300).log().sum();
  return result;
}

OuScatter scatter_about(const std::vector<double>& time_s, const std::vector<double>& value,
                        const std::vector<std::vector<double>>& columns, const OuNoise& noise) {
  switch (columns.size()) {
    case 1:
      return scatter<1>(time_s, value, columns, noise);
    case 2:
      return scatter<2>(time_s, value, columns, noise);
    case 3:
      return scatter<3>(time_s, value, columns, noise);
    default:
      return regress(time_s, value, columns, noise);
  }
}

double variance_of_mean(double length_s, double tau_s) {
  const double ratio = length_s / tau_s;
  if (ratio < 1e-6) return 1.0;
  return 2.0 / ratio * (1.0 - (1.0 - std::exp(-ratio)) / ratio);
}

}  // namespace windway
