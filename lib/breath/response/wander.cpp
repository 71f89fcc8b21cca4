// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/wander.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "breath/blows/pitch_curve.hpp"
#include "breath/response/swell.hpp"
#include "statistics/likelihoods.hpp"
#include "statistics/straight_line.hpp"

namespace windway {
namespace {

constexpr std::array taus_s{0.06, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.55, 0.8, 1.2, 1.8};
constexpr std::array white_shares{0.002, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0};
/// What is believed of the correlation time beforehand, from memory: a player hears and mends a wander in about a third
/// of a second, give or take a factor of two. Short holds alone hardly tell a slow wander from a quicker, smaller one.
constexpr double usual_tau_s = 0.33;
constexpr double log_tau_sd = 0.7;

constexpr double least_degrees = 2.0;   ///< a hold with fewer left says nothing of the wander
constexpr double common_weight = 20.0;  ///< of the take's own rule against one note's curves, in points

/// One hold's sum of squares under one shape.
struct HoldScatter {
  double sum_of_squares = 0;
  double degrees = 0;
};

struct HoldCurve {
  PitchCurve curve;
  std::vector<std::vector<double>> columns;
};

bool plays_vibrato(const Naming& naming) {
  const auto swinging = std::count_if(naming.holds.begin(), naming.holds.end(),
                                      [](const NamedHold& h) { return h.hold.vibrato_hz.has_value(); });
  return 2 * static_cast<std::size_t>(swinging) > naming.holds.size();
}

std::vector<HoldCurve> hold_curves(const Naming& naming, const std::vector<bool>& used,
                                   const std::vector<bool>& is_swell) {
  std::vector<HoldCurve> curves(naming.holds.size());
  const bool vibrato = plays_vibrato(naming);
  for (std::size_t h = 0; h < curves.size(); ++h) {
    // Where vibrato is played, a hold in which it was not told apart would pass it off as wander.
    if (!used[h] || (vibrato && !naming.holds[h].hold.vibrato_hz)) continue;
    HoldCurve& c = curves[h];
    c.curve = pitch_curve(naming.holds[h]);
    c.columns = is_swell[h] ? swell_columns(c.curve) : steady_columns(c.curve);
    if (static_cast<double>(c.curve.cents.size()) < static_cast<double>(c.columns.size()) + least_degrees) c.curve = {};
  }
  return curves;
}

/// a + b bend^2 by note, neither below nothing: the wander of the pitch itself, and of the breath through the bend.
std::map<NoteId, double> variance_by_rule(const std::map<NoteId, HoldScatter>& notes,
                                          const std::map<NoteId, double>& bend) {
  std::vector<LinePoint> points;
  for (const auto& [note, s] : notes)
    points.push_back({bend.at(note) * bend.at(note), s.sum_of_squares / s.degrees, s.degrees});
  const StraightLine line = fit_line(points);
  double b = std::max(0.0, line.slope);
  double a = line.mean_y - b * line.mean_x;
  if (a < 0) {  // the best line through 0
    a = 0;
    b = (line.xy + line.weights * line.mean_x * line.mean_y) / (line.xx + line.weights * line.mean_x * line.mean_x);
  }
  std::map<NoteId, double> variance;
  for (const auto& [note, cents] : bend) variance[note] = a + b * cents * cents;
  return variance;
}

std::map<NoteId, double> bend_by_note(const Naming& naming, const std::vector<double>& bend_cents) {
  std::map<NoteId, double> bend;
  for (std::size_t h = 0; h < bend_cents.size(); ++h) bend[naming.holds[h].note] = bend_cents[h];
  return bend;
}

std::vector<double> hold_variances(const Naming& naming, const std::vector<HoldScatter>& scatter,
                                   const std::map<NoteId, double>& bend) {
  std::map<NoteId, HoldScatter> notes;
  for (std::size_t h = 0; h < scatter.size(); ++h) {
    if (scatter[h].degrees <= 0) continue;
    notes[naming.holds[h].note].sum_of_squares += scatter[h].sum_of_squares;
    notes[naming.holds[h].note].degrees += scatter[h].degrees;
  }
  const std::map<NoteId, double> rule = variance_by_rule(notes, bend);
  std::vector<double> variance;
  for (const NamedHold& h : naming.holds) {
    const auto seen = notes.find(h.note);
    const HoldScatter own = seen == notes.end() ? HoldScatter{} : seen->second;
    variance.push_back((common_weight * rule.at(h.note) + own.sum_of_squares) / (common_weight + own.degrees));
  }
  return variance;
}

/// The shape with its variances; `weight` is its log probability yet.
WanderShape fit_shape(const Naming& naming, const std::vector<HoldCurve>& curves, const std::map<NoteId, double>& bend,
                      const OuNoise& noise) {
  WanderShape shape{noise, -0.5 * std::pow(std::log(noise.tau_s / usual_tau_s) / log_tau_sd, 2), {}};
  std::vector<HoldScatter> scatter(curves.size());
  for (std::size_t h = 0; h < curves.size(); ++h) {
    if (curves[h].curve.cents.empty()) continue;
    const PitchCurve& curve = curves[h].curve;
    const OuScatter fit = scatter_about(curve.time_s, curve.cents, curves[h].columns,
                                        {noise.tau_s, noise.white_share, curve.read_over_s});
    scatter[h] = {fit.sum_of_squares, fit.degrees};
    shape.weight -= 0.5 * (fit.log_determinant + fit.degrees * std::log(std::max(fit.sum_of_squares, 1e-12)));
  }
  shape.variance_cents2 = hold_variances(naming, scatter, bend);
  return shape;
}

void weigh_by_likelihood(std::vector<WanderShape>& shapes) {
  std::vector<double> logs;
  for (const WanderShape& s : shapes) logs.push_back(s.weight);
  const std::vector<double> weight = relative_likelihoods(std::move(logs));
  const double sum = std::accumulate(weight.begin(), weight.end(), 0.0);
  for (std::size_t i = 0; i < shapes.size(); ++i) shapes[i].weight = weight[i] / sum;
  std::erase_if(shapes, [](const WanderShape& s) { return s.weight < 1e-5; });
}

double independent_wanders(const std::vector<HoldCurve>& curves, const std::vector<WanderShape>& shapes) {
  double tau_s = 0, length_s = 0;
  for (const WanderShape& s : shapes) tau_s += s.weight * s.noise.tau_s;
  for (const HoldCurve& c : curves)
    if (!c.curve.time_s.empty()) length_s += c.curve.time_s.back() - c.curve.time_s.front();
  return std::max(2.0, length_s / (2.0 * tau_s));
}

}  // namespace

Wander measure_wander(const Naming& naming, const std::vector<bool>& used, const std::vector<bool>& is_swell,
                      const std::vector<double>& bend_cents) {
  const std::vector<HoldCurve> curves = hold_curves(naming, used, is_swell);
  Wander wander;
  if (std::all_of(curves.begin(), curves.end(), [](const HoldCurve& c) { return c.curve.cents.empty(); }))
    return wander;
  const std::map<NoteId, double> bend = bend_by_note(naming, bend_cents);
  for (double tau_s : taus_s)
    for (double white_share : white_shares)
      wander.shapes.push_back(fit_shape(naming, curves, bend, {tau_s, white_share}));
  weigh_by_likelihood(wander.shapes);
  wander.degrees = independent_wanders(curves, wander.shapes);
  return wander;
}

double mean_variance_cents2(const Wander& wander, const Naming& naming, std::size_t hold) {
  if (wander.shapes.empty()) return unseen_variance_cents2;
  const Hold& h = naming.holds[hold].hold;
  double variance = 0;
  for (const WanderShape& s : wander.shapes)
    variance += s.weight * s.variance_cents2[hold] * variance_of_mean(h.steady_end_s - h.steady_start_s, s.noise.tau_s);
  return variance;
}

}  // namespace windway
