// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/vibrato.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

namespace windway {

namespace {

constexpr double slowest_hz = 3.0;  // players' vibrato lies about 4 to 7 Hz (common practice, no source)
constexpr double fastest_hz = 9.0;
constexpr double step_hz = 0.05;
constexpr double least_share = 0.45;  // of the variance about the trend; noise alone gives a fifth
constexpr double least_periods = 1.5;

Eigen::MatrixXd sine_and_trend(Eigen::Index points, double hop_s, double rate_hz) {
  Eigen::MatrixXd design(points, 4);
  for (Eigen::Index i = 0; i < points; ++i) {
    const double t_s = static_cast<double>(i) * hop_s;
    const double turn = 2.0 * std::numbers::pi * rate_hz * t_s;
    design.row(i) << 1.0, t_s, std::cos(turn), std::sin(turn);
  }
  return design;
}

struct Fit {
  double squares = 0;
  double depth = 0;
};

Fit fit_at(const Eigen::VectorXd& cents, double hop_s, double rate_hz) {
  const Eigen::MatrixXd design = sine_and_trend(cents.size(), hop_s, rate_hz);
  const Eigen::VectorXd c = (design.transpose() * design).ldlt().solve(design.transpose() * cents);
  return {(cents - design * c).squaredNorm(), std::hypot(c(2), c(3))};
}

double squares_about_trend(const Eigen::VectorXd& cents, double hop_s) {
  const Eigen::MatrixXd design = sine_and_trend(cents.size(), hop_s, 0.0).leftCols(2);
  const Eigen::VectorXd c = (design.transpose() * design).ldlt().solve(design.transpose() * cents);
  return (cents - design * c).squaredNorm();
}

}  // namespace

std::optional<double> vibrato_hz(const std::vector<double>& values, double hop_s, double least_depth) {
  const auto points = static_cast<Eigen::Index>(values.size());
  if (static_cast<double>(points) * hop_s * slowest_hz < least_periods) return std::nullopt;
  const Eigen::VectorXd curve = Eigen::Map<const Eigen::VectorXd>(values.data(), points);
  const double about_trend = squares_about_trend(curve, hop_s);
  const double rms = std::sqrt(about_trend / static_cast<double>(points));
  if (rms < least_depth / 2.0) return std::nullopt;
  double best_hz = slowest_hz;
  Fit best{about_trend, 0.0};
  for (double rate_hz = slowest_hz; rate_hz <= fastest_hz; rate_hz += step_hz) {
    const Fit fit = fit_at(curve, hop_s, rate_hz);
    if (fit.squares < best.squares) {
      best = fit;
      best_hz = rate_hz;
    }
  }
  const bool found = best.depth >= least_depth && best.squares < (1.0 - least_share) * about_trend;
  return found ? std::optional(best_hz) : std::nullopt;
}

std::vector<double> fitted_vibrato(const std::vector<double>& values, double hop_s, double rate_hz, std::size_t first,
                                   std::size_t last) {
  const Eigen::VectorXd all =
      Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
  const Eigen::MatrixXd design = sine_and_trend(all.size(), hop_s, rate_hz);
  const auto from = static_cast<Eigen::Index>(first), count = static_cast<Eigen::Index>(last - first + 1);
  const Eigen::MatrixXd inner = design.middleRows(from, count);
  const Eigen::VectorXd c = (inner.transpose() * inner).ldlt().solve(inner.transpose() * all.segment(from, count));
  const Eigen::VectorXd fitted = design * c;
  return {fitted.begin(), fitted.end()};
}

}  // namespace windway
