// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/measured_move.hpp"

#include <algorithm>
#include <cmath>

#include "slide/warming.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

constexpr double sure_sds = 3.0;         // of the warming, before it is fitted: else chance would cost the factor dear
constexpr double least_sd_cents = 0.02;  // no note's change is surer

/// Weighted sums of the line change = factor * predicted + warming.
struct Sums {
  double w = 0, p = 0, y = 0, pp = 0, py = 0;
};

double sd_of(const NoteChange& change) { return std::max(change.change.u95_cents / normal_u95_factor, least_sd_cents); }

Sums sums_of(const std::vector<NoteChange>& changes) {
  Sums s;
  for (const NoteChange& change : changes) {
    const double weight = 1.0 / std::pow(sd_of(change), 2);
    const double p = *change.predicted_cents, y = change.change.cents;
    s = {s.w + weight, s.p + weight * p, s.y + weight * y, s.pp + weight * p * p, s.py + weight * p * y};
  }
  return s;
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
  const Sums s = sums_of(changes);
  if (s.pp <= 0) return move;
  const auto notes = static_cast<double>(changes.size());
  const double determinant = s.w * s.pp - s.p * s.p;
  if (determinant > 1e-6 * s.w * s.pp) {
    const double factor = (s.w * s.py - s.p * s.y) / determinant;
    const double warming = (s.pp * s.y - s.p * s.py) / determinant;
    const double scatter = excess(changes, factor, warming, notes - 2);
    const double warming_sd = scatter * std::sqrt(s.pp / determinant);
    if (std::abs(warming) > sure_sds * std::hypot(warming_sd, alike_sd_cents)) {
      const double k = coverage(notes - 2);
      move.factor = {factor, k * scatter * std::sqrt(s.w / determinant)};
      move.warming = {warming, k * warming_sd};
      move.warming_told = true;
    }
  }
  if (!move.warming_told) {
    const double factor = s.py / s.pp;
    const double by_notes = coverage(notes - 1) * excess(changes, factor, 0, notes - 1) / std::sqrt(s.pp);
    const double by_warmth = normal_u95_factor * alike_sd_cents * std::abs(s.p) / s.pp;
    move.factor = {factor, std::hypot(by_notes, by_warmth)};
    move.warming = {0, normal_u95_factor * alike_sd_cents};
  }
  move.is_telling = move.factor.factor > 0 && move.factor.u95 < law_u95_share({}) * move.factor.factor;
  return move;
}

}  // namespace windway
