// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/measured_move.hpp"

#include <algorithm>
#include <cmath>

#include "slide/warming.hpp"
#include "statistics/straight_line.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

constexpr double sure_sds = 3.0;         // of the warming, before it is fitted: else chance would cost the factor dear
constexpr double least_sd_cents = 0.02;  // no note's change is surer

double sd_of(const NoteChange& change) { return std::max(change.change.u95_cents / normal_u95_factor, least_sd_cents); }

/// Change against prediction; the line is change = factor * predicted + warming.
std::vector<LinePoint> points_of(const std::vector<NoteChange>& changes) {
  std::vector<LinePoint> points;
  for (const NoteChange& change : changes)
    points.push_back({*change.predicted_cents, change.change.cents, 1.0 / std::pow(sd_of(change), 2)});
  return points;
}

/// Root of the mean square of the residuals over their SDs, at least 1: notes may scatter more than they say.
double excess(const std::vector<NoteChange>& changes, double factor, double warming_cents, double degrees) {
  double squares = 0;
  for (const NoteChange& change : changes) {
    const double off = change.change.cents - factor * *change.predicted_cents - warming_cents;
    squares += std::pow(off / sd_of(change), 2);
  }
  return degrees > 0 ? std::max(1.0, std::sqrt(squares / degrees)) : 1.0;
}

double coverage(double degrees) {
  if (degrees < 1) return normal_u95_factor;
  return u95_factor(degrees);
}

}  // namespace

MeasuredMove measured_move(const std::vector<NoteChange>& changes, double drawn_out_mm) {
  MeasuredMove move;
  move.drawn_out_mm = drawn_out_mm;
  if (changes.empty()) return move;
  const StraightLine line = fit_line(points_of(changes));
  const double predicted_squares = line.xx + line.weights * line.mean_x * line.mean_x;  // about 0, not the mean
  if (predicted_squares <= 0) return move;
  const auto notes = static_cast<double>(changes.size());
  if (line.xx > 1e-6 * predicted_squares) {
    const double warming = line.at(0.0);
    const double scatter = excess(changes, line.slope, warming, notes - 2);
    const double warming_sd = scatter * std::sqrt(1.0 / line.weights + line.mean_x * line.mean_x / line.xx);
    if (std::abs(warming) > sure_sds * std::hypot(warming_sd, alike_sd_cents)) {
      const double k = coverage(notes - 2);
      move.factor = {line.slope, k * scatter / std::sqrt(line.xx)};
      move.warming = {warming, k * warming_sd};
      move.warming_told = true;
    }
  }
  if (!move.warming_told) {
    const double factor = (line.xy + line.weights * line.mean_x * line.mean_y) / predicted_squares;
    const double by_notes = coverage(notes - 1) * excess(changes, factor, 0, notes - 1) / std::sqrt(predicted_squares);
    const double by_warmth =
        normal_u95_factor * alike_sd_cents * std::abs(line.weights * line.mean_x) / predicted_squares;
    move.factor = {factor, std::hypot(by_notes, by_warmth)};
    move.warming = {0, normal_u95_factor * alike_sd_cents};
  }
  const bool is_plausible = move.factor.factor > least_slide_factor && move.factor.factor < most_slide_factor;
  move.is_telling = is_plausible && move.factor.u95 < law_u95_share({}) * move.factor.factor;
  return move;
}

bool is_surely_implausible(const SlideFactor& factor) {
  return factor.factor + factor.u95 < least_slide_factor || factor.factor - factor.u95 > most_slide_factor;
}

}  // namespace windway
