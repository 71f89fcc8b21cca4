// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/stiff_string.hpp"

#include <algorithm>
#include <cmath>

#include "statistics/random_effects.hpp"
#include "statistics/robust_centre.hpp"
#include "statistics/straight_line.hpp"
#include "units/coverage_factor.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

/// A straight line y = at_one + slope (x - 1) through points, by weighted least squares, and what is unsure of it.
struct Line {
  double at_one = 0;
  double slope = 0;
  double at_one_variance = 0;
  double slope_variance = 0;
};

/// One partial: x = n^2, y = (f_n / n)^2 over its guess.
struct Point {
  double x = 1;
  double y = 0;
  double variance = 0;  ///< of y, from the measurement
  double trust = 1;     ///< less than 1 where it lies far off the rest
};

/// A standard deviation of a frequency, in cents, as a variance of y.
constexpr double variance_in_y(double sd_cents) {
  const double sd = 2.0 * sd_cents / cents_per_neper;
  return sd * sd;
}

/// How far partials stand off the law, as the soundboard draws them (common practice, no source).
constexpr double usual_scatter_cents = 0.25;
constexpr double usual_scatter = variance_in_y(usual_scatter_cents);
constexpr double usual_degrees = 3.0;
/// The first partial is the pitch itself, whatever draws it; but it is not the same from strike to strike, and the
/// strings of one note are never quite alike (common practice, no source).
constexpr double first_scatter = variance_in_y(0.15);

double variance_of(const Point& point, double scatter) {
  return point.variance + (point.x > 1.0 ? scatter : std::min(scatter, first_scatter));
}

Line line_through(const std::vector<Point>& points, double scatter, bool is_level) {
  std::vector<LinePoint> weighted;
  for (const Point& p : points) weighted.push_back({p.x, p.y, p.trust / variance_of(p, scatter)});
  const StraightLine line = fit_line(weighted);
  if (is_level) return {line.mean_y, 0.0, 1.0 / line.weights, 0.0};
  const double away = 1.0 - line.mean_x;
  return {line.at(1.0), line.slope, 1.0 / line.weights + away * away / line.xx, 1.0 / line.xx};
}

double residual(const Point& point, const Line& line) { return point.y - line.at_one - line.slope * (point.x - 1.0); }

double sum_of_squares(const std::vector<Point>& points, double scatter, bool is_level) {
  const Line line = line_through(points, scatter, is_level);
  double sum = 0;
  for (const Point& p : points) {
    const double off = residual(p, line);
    sum += p.trust * off * off / variance_of(p, scatter);
  }
  return sum;
}

/// (f_n / n)^2 over that of the lowest partial, with variances.
std::vector<Point> points_of(const std::vector<PartialFrequency>& partials, double guess_hz) {
  std::vector<Point> points;
  for (const PartialFrequency& partial : partials) {
    const double number = partial.number;
    const double ratio = partial.hz / number / guess_hz;
    const double sd = 2.0 * ratio * ratio * partial.sd_hz / partial.hz;
    points.push_back({number * number, ratio * ratio, sd * sd, 1.0});
  }
  return points;
}

/// The scatter of the partials about the law, as a variance of y: what the points say, with what is usual as three
/// points more.
double scatter_of(const std::vector<Point>& points, double degrees, bool is_level) {
  const auto squares = [&](double scatter) {
    return sum_of_squares(points, scatter, is_level) + usual_degrees * usual_scatter / (scatter + 1e-18);
  };
  return added_variance(squares, degrees + usual_degrees);
}

StiffString fitted(const std::vector<PartialFrequency>& partials, bool is_level) {
  const double guess_hz = partials.front().hz / partials.front().number;
  std::vector<Point> points = points_of(partials, guess_hz);
  const double degrees = static_cast<double>(points.size()) - (is_level ? 1.0 : 2.0);
  double scatter = usual_scatter;
  Line line = line_through(points, scatter, is_level);
  for (int turn = 0; turn < 12 && degrees >= 1; ++turn) {  // weights settle in five or six
    scatter = scatter_of(points, degrees, is_level);
    for (Point& p : points)
      if (p.x > 1.0) p.trust = huber_weight(residual(p, line) / std::sqrt(variance_of(p, scatter)));
    line = line_through(points, scatter, is_level);
  }
  const double factor = u95_factor(degrees + usual_degrees);
  StiffString string;
  string.first_hz = guess_hz * std::sqrt(line.at_one);
  string.first_u95_cents = factor * cents_per_neper * std::sqrt(line.at_one_variance) / (2.0 * line.at_one);
  string.partials = static_cast<int>(partials.size());
  const double f0_squared = line.at_one - line.slope;
  if (!is_level && partials.size() > 2)
    string.inharmonicity = {line.slope / f0_squared, factor * std::sqrt(line.slope_variance) / f0_squared};
  return string;
}

/// A partial alone that is not the first: a string's stiffness is not known, from 0 to 0.001 (checks of pianos: common
/// practice, no source).
StiffString alone(const PartialFrequency& partial) {
  constexpr double most_stiffness = 1e-3;
  const double number = partial.number;
  const double stretch = 0.5 * cents_per_neper * std::log1p(most_stiffness * (number * number - 1.0));
  const double noise =
      normal_u95_factor * std::hypot(cents_per_neper * partial.sd_hz / partial.hz, usual_scatter_cents);
  return {hz_at_cents(partial.hz / number, -0.5 * stretch), std::hypot(noise, 0.5 * stretch), std::nullopt, 1};
}

}  // namespace

std::optional<StiffString> fit_stiff_string(const std::vector<PartialFrequency>& partials) {
  if (partials.empty()) return std::nullopt;
  if (partials.size() == 1) return alone(partials.front());
  return fitted(partials, false);
}

std::optional<StiffString> fit_harmonics(const std::vector<PartialFrequency>& partials) {
  if (partials.empty()) return std::nullopt;
  return fitted(partials, true);
}

}  // namespace windway
