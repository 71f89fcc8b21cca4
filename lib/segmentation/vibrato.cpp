// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/vibrato.hpp"

#include <Eigen/Cholesky>
#include <cassert>
#include <cmath>
#include <numbers>

#include "statistics/straight_line.hpp"

namespace windway {

namespace {

constexpr double slowest_hz = 3.0;  // players' vibrato lies about 4 to 7 Hz (common practice, no source)
constexpr double fastest_hz = 9.0;
constexpr double step_hz = 0.05;
constexpr double least_share = 0.45;  // of the variance about the trend; noise alone gives a fifth
constexpr double least_periods = 1.5;

double turn_rad(double rate_hz, double time_s) { return 2.0 * std::numbers::pi * rate_hz * time_s; }

std::vector<double> times_of(std::size_t frames, double hop_s) {
  std::vector<double> times_s;
  for (std::size_t i = 0; i < frames; ++i) times_s.push_back(static_cast<double>(i) * hop_s);
  return times_s;
}

double squares_about_trend(std::span<const double> times_s, std::span<const double> values) {
  std::vector<LinePoint> points;
  for (std::size_t i = 0; i < values.size(); ++i) points.push_back({times_s[i], values[i]});
  const StraightLine line = fit_line(points);
  return line.yy - line.slope * line.xy;
}

}  // namespace

double SineFit::sine_at(double at_s) const {
  const double turn = turn_rad(rate_hz, at_s - middle_s);
  return cosine * std::cos(turn) + sine * std::sin(turn);
}

double SineFit::depth() const { return std::hypot(cosine, sine); }

SineFit fit_sine(std::span<const double> times_s, std::span<const double> values, double rate_hz,
                 const SinePrior& prior) {
  assert(!values.empty() && times_s.size() == values.size());
  SineFit fit{0.5 * (times_s.front() + times_s.back()), 0, 0, 0, 0, rate_hz, 0};
  Eigen::MatrixX4d design(static_cast<Eigen::Index>(values.size()), 4);
  for (Eigen::Index i = 0; i < design.rows(); ++i) {
    const double t_s = times_s[static_cast<std::size_t>(i)] - fit.middle_s;
    design.row(i) << 1.0, t_s, std::cos(turn_rad(rate_hz, t_s)), std::sin(turn_rad(rate_hz, t_s));
  }
  const Eigen::Map<const Eigen::VectorXd> y(values.data(), design.rows());
  Eigen::Matrix4d normal = design.transpose() * design;
  normal.diagonal() += Eigen::Vector4d(0.0, prior.slope_s2, prior.sine, prior.sine);
  const Eigen::Vector4d c = normal.ldlt().solve(design.transpose() * y);
  fit.mean = c(0), fit.slope_per_s = c(1), fit.cosine = c(2), fit.sine = c(3);
  fit.residual_squares = (y - design * c).squaredNorm();
  return fit;
}

std::optional<double> vibrato_hz(const std::vector<double>& values, double hop_s, double least_depth) {
  const auto points = static_cast<double>(values.size());
  if (points * hop_s * slowest_hz < least_periods) return std::nullopt;
  const std::vector<double> times_s = times_of(values.size(), hop_s);
  const double about_trend = squares_about_trend(times_s, values);
  if (std::sqrt(about_trend / points) < least_depth / 2.0) return std::nullopt;
  SineFit best;
  best.residual_squares = about_trend;
  for (double rate_hz = slowest_hz; rate_hz <= fastest_hz; rate_hz += step_hz) {
    const SineFit fit = fit_sine(times_s, values, rate_hz);
    if (fit.residual_squares < best.residual_squares) best = fit;
  }
  const bool found = best.depth() >= least_depth && best.residual_squares < (1.0 - least_share) * about_trend;
  return found ? std::optional(best.rate_hz) : std::nullopt;
}

std::vector<double> fitted_vibrato(const std::vector<double>& values, double hop_s, double rate_hz, std::size_t first,
                                   std::size_t last) {
  const std::vector<double> times_s = times_of(values.size(), hop_s);
  const std::size_t count = last - first + 1;
  const SineFit fit =
      fit_sine(std::span(times_s).subspan(first, count), std::span(values).subspan(first, count), rate_hz);
  std::vector<double> fitted;
  for (const double t_s : times_s) fitted.push_back(fit.at(t_s));
  return fitted;
}

}  // namespace windway
