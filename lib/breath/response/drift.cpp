// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/drift.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr double least_share_apart = 0.5;  ///< of the span: repeats nearer than this leave the rest of it to guessing
constexpr int least_groups_apart = 3;
constexpr int taus = 24;
constexpr double significant = 3.5;  ///< standard errors

constexpr double least_breath_information = 1.0;  ///< squares of the foretold differences in their own noise
constexpr double many_degrees = 20;
constexpr double least_excess = 0.25;

/// What is believed of the time constant beforehand, from memory: a flute warms in about a minute, give or take a
/// factor of two.
constexpr double usual_tau_s = 60.0;
constexpr double log_tau_sd = 0.7;

/// Weighted group means taken out of `values`.
std::vector<double> without_group_means(const std::vector<DriftPoint>& points, std::vector<double> values) {
  std::map<int, std::pair<double, double>> sums;
  for (std::size_t i = 0; i < points.size(); ++i) {
    sums[points[i].group].first += values[i] / points[i].variance_cents2;
    sums[points[i].group].second += 1.0 / points[i].variance_cents2;
  }
  for (std::size_t i = 0; i < points.size(); ++i)
    values[i] -= sums[points[i].group].first / sums[points[i].group].second;
  return values;
}

double weighted_product(const std::vector<DriftPoint>& points, const std::vector<double>& a,
                        const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); ++i) sum += a[i] * b[i] / points[i].variance_cents2;
  return sum;
}

/// What the levels foretell of the points about their groups' means; nothing where that is too little to tell.
std::vector<double> foretold_cents(const std::vector<DriftPoint>& points) {
  std::vector<double> breath;
  for (const DriftPoint& p : points) breath.push_back(p.breath_cents);
  breath = without_group_means(points, std::move(breath));
  return weighted_product(points, breath, breath) < least_breath_information ? std::vector<double>{} : breath;
}

/// The points as they scatter, and what their levels foretell of it; nothing where they tell nothing.
struct Repeats {
  std::vector<DriftPoint> points;
  std::vector<double> foretold_cents;
};

/// What the levels foretell taken out of `values`, by their best multiple: regressing what is left on what is left of
/// the drift's shape is the joint fit (Frisch and Waugh, Econometrica 1 (1933) 387; from memory).
std::vector<double> without_breath(const Repeats& repeats, std::vector<double> values) {
  const auto& [points, breath] = repeats;
  if (breath.empty()) return values;
  const double multiple = weighted_product(points, breath, values) / weighted_product(points, breath, breath);
  for (std::size_t i = 0; i < values.size(); ++i) values[i] -= multiple * breath[i];
  return values;
}

/// Notes scatter unequally because they bend unequally: where the levels take that out, what is left is the pitch's own
/// wander, and all groups scatter alike.
std::vector<DriftPoint> scattering_alike(std::vector<DriftPoint> points) {
  std::map<int, std::pair<double, double>> of_group;
  double sum = 0;
  for (const DriftPoint& p : points) {
    of_group[p.group].first += p.variance_cents2;
    of_group[p.group].second += 1.0;
    sum += p.variance_cents2;
  }
  const double mean = sum / static_cast<double>(points.size());
  for (DriftPoint& p : points) {
    const auto& [group_sum, count] = of_group[p.group];
    p.variance_cents2 *= mean * count / group_sum;
  }
  return points;
}

Repeats as_they_scatter(const std::vector<DriftPoint>& given) {
  std::vector<double> foretold = foretold_cents(given);
  if (foretold.empty()) return {given, {}};
  // Within a group the weights keep their proportions, so its mean, and what is foretold, stay as they are.
  return {scattering_alike(given), std::move(foretold)};
}

int groups_apart(const std::vector<DriftPoint>& points, double least_s) {
  std::map<int, std::pair<double, double>> range;
  for (const DriftPoint& p : points) {
    auto& r = range.try_emplace(p.group, p.time_s, p.time_s).first->second;
    r = {std::min(r.first, p.time_s), std::max(r.second, p.time_s)};
  }
  return static_cast<int>(std::count_if(range.begin(), range.end(),
                                        [&](const auto& g) { return g.second.second - g.second.first >= least_s; }));
}

/// One time constant's share in the answer.
struct Warming {
  double tau_s = 0;
  double size_cents = 0;  ///< over the span
  double size_variance = 0;
  double chi_squared = 0;
  double weight = 0;
};

/// From 0 at the start of the span to 1 at its end.
double warmed(double time_s, const DriftSpan& span, double tau_s) {
  return std::expm1(-(time_s - span.start_s) / tau_s) / std::expm1(-(span.end_s - span.start_s) / tau_s);
}

/// The size of a change of the pitch whose course over time is known.
struct ChangeFit {
  double size_cents = 0;
  double variance = 0;
  double chi_squared = 0;
};

ChangeFit fit_change(const Repeats& repeats, std::vector<double> shape) {
  const std::vector<DriftPoint>& points = repeats.points;
  std::vector<double> cents;
  for (const DriftPoint& p : points) cents.push_back(p.cents);
  cents = without_breath(repeats, without_group_means(points, std::move(cents)));
  shape = without_breath(repeats, without_group_means(points, std::move(shape)));
  const double information = weighted_product(points, shape, shape);
  const double product = weighted_product(points, shape, cents);
  const double squares = weighted_product(points, cents, cents);
  if (information <= 0) return {0.0, HUGE_VAL, squares};
  return {product / information, 1.0 / information, squares - product * product / information};
}

Warming fit_warming(const Repeats& repeats, const DriftSpan& span, double tau_s) {
  std::vector<double> shape;
  for (const DriftPoint& p : repeats.points) shape.push_back(warmed(p.time_s, span, tau_s));
  const ChangeFit fit = fit_change(repeats, std::move(shape));
  return {tau_s, fit.size_cents, fit.variance, fit.chi_squared, 0.0};
}

/// The likeliest step of the pitch before one of the holds.
ChangeFit fit_step(const Repeats& repeats) {
  ChangeFit best{0, 0, HUGE_VAL};
  for (const DriftPoint& after : repeats.points) {
    std::vector<double> shape;
    for (const DriftPoint& p : repeats.points) shape.push_back(p.time_s < after.time_s ? 0.0 : 1.0);
    const ChangeFit fit = fit_change(repeats, std::move(shape));
    if (fit.chi_squared < best.chi_squared && std::isfinite(fit.variance)) best = fit;
  }
  return best;
}

/// Time constants evenly in the logarithm, from a twelfth of the span to four spans (all but straight).
std::vector<Warming> fit_all_warmings(const Repeats& repeats, const DriftSpan& span) {
  std::vector<Warming> all;
  const double length_s = span.end_s - span.start_s;
  for (int i = 0; i < taus; ++i)
    all.push_back(fit_warming(repeats, span, length_s / 12.0 * std::pow(48.0, static_cast<double>(i) / (taus - 1))));
  return all;
}

/// How many times the repeats scatter more than their variances say; less than 1 only where many tell so (the levels
/// have explained a part of it).
double excess_scatter(const std::vector<DriftPoint>& points, const std::vector<Warming>& all) {
  std::map<int, int> groups;
  for (const DriftPoint& p : points) ++groups[p.group];
  const double degrees = static_cast<double>(points.size()) - static_cast<double>(groups.size()) - 3.0;
  double least = all.front().chi_squared;
  for (const Warming& w : all) least = std::min(least, w.chi_squared);
  return degrees > 0 ? std::max(degrees < many_degrees ? 1.0 : least_excess, least / degrees) : 1.0;
}

/// A step that is far likelier than any warming, and larger than what a player does to all notes at once.
std::optional<double> sure_step_cents(const Repeats& repeats, const std::vector<Warming>& all) {
  constexpr double least_log_ratio = 15.0;  // of likelihoods; flutes whose head stays, warm or not: to 2.7
  constexpr double least_cents = 5.0;
  const ChangeFit step = fit_step(repeats);
  const double degrees = static_cast<double>(repeats.points.size()) - 3.0;
  const double excess = degrees > 0 ? std::max(1.0, step.chi_squared / degrees) : 1.0;
  const double least_warming = std::ranges::min_element(all, {}, &Warming::chi_squared)->chi_squared;
  const bool is_sure = 0.5 * (least_warming - step.chi_squared) / excess > least_log_ratio;
  return is_sure && std::abs(step.size_cents) > least_cents ? std::optional(step.size_cents) : std::nullopt;
}

void weigh(std::vector<Warming>& all, double excess) {
  double least = all.front().chi_squared, sum = 0;
  for (const Warming& w : all) least = std::min(least, w.chi_squared);
  for (Warming& w : all) {
    const double unusual = std::log(w.tau_s / usual_tau_s) / log_tau_sd;
    w.weight = std::exp(-0.5 * ((w.chi_squared - least) / excess + unusual * unusual));
    w.size_variance *= excess;
    sum += w.weight;
  }
  for (Warming& w : all) w.weight /= sum;
}

struct Change {
  double cents = 0;
  double sd_cents = 0;
};

/// The change from `from_s` to the end of the span, averaged over the time constants.
Change change_to_end(const std::vector<Warming>& all, const DriftSpan& span, double from_s) {
  double mean = 0, square = 0;
  for (const Warming& w : all) {
    const double share = 1.0 - warmed(from_s, span, w.tau_s);
    mean += w.weight * share * w.size_cents;
    square += w.weight * share * share * (w.size_cents * w.size_cents + w.size_variance);
  }
  return {mean, std::sqrt(std::max(0.0, square - mean * mean))};
}

}  // namespace

double cold_rise_cents(double from_s, double to_s) {
  constexpr double whole_cents = 20.0;
  return whole_cents * (std::exp(-from_s / usual_tau_s) - std::exp(-to_s / usual_tau_s));
}

std::optional<DriftFit> find_drift(const std::vector<DriftPoint>& points, const DriftSpan& span) {
  const double length_s = span.end_s - span.start_s;
  if (length_s <= 0 || groups_apart(points, least_share_apart * length_s) < least_groups_apart) return std::nullopt;
  const Repeats repeats = as_they_scatter(points);
  std::vector<Warming> all = fit_all_warmings(repeats, span);
  const double excess = excess_scatter(points, all);
  weigh(all, excess);
  const Change over_take = change_to_end(all, span, span.start_s);
  DriftFit fit;
  fit.drift = {over_take.cents, normal_u95_factor * over_take.sd_cents, std::nullopt, sure_step_cents(repeats, all)};
  fit.correction_cents.assign(points.size(), 0.0);
  fit.correction_sd_cents.assign(points.size(), 0.0);
  // The best single shape decides: averaging the shapes widens the interval even where there is surely a drift.
  const auto best =
      std::max_element(all.begin(), all.end(), [](const Warming& a, const Warming& b) { return a.weight < b.weight; });
  if (std::abs(best->size_cents) <= significant * std::sqrt(best->size_variance)) return fit;
  fit.drift.reference_time_s = span.end_s;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Change change = change_to_end(all, span, points[i].time_s);
    fit.correction_cents[i] = change.cents;
    fit.correction_sd_cents[i] = change.sd_cents;
  }
  return fit;
}

}  // namespace windway
