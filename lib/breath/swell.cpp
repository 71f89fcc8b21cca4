// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/swell.hpp"

#include <algorithm>
#include <cmath>

namespace windway {
namespace {

constexpr double least_sweep_db = 3.0;
constexpr double least_sweep_cents = 1.5;
constexpr double least_length_s = 0.8;
constexpr double least_straightness = 0.8;  ///< share of the level's variance that a straight sweep explains

constexpr double settling_s = 0.1;  ///< the tone overshoots as it speaks

constexpr double sag_cents_per_s = -0.7;
constexpr double sag_sd_cents_per_s = 0.5;
constexpr std::size_t time_column = 3;
/// Used where the wander could not be seen.
constexpr double unseen_variance_cents2 = 0.25;

struct Line {
  double slope = 0;
  double straightness = 0;
};

Line straight_line(const std::vector<double>& x, const std::vector<double>& y) {
  const double n = static_cast<double>(x.size());
  double mx = 0, my = 0, xx = 0, xy = 0, yy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    mx += x[i] / n;
    my += y[i] / n;
  }
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    xy += (x[i] - mx) * (y[i] - my);
    yy += (y[i] - my) * (y[i] - my);
  }
  if (xx <= 0 || yy <= 0) return {};
  return {xy / xx, xy * xy / (xx * yy)};
}

/// Means over three blocks: the level's own flutter must not bend the response.
std::vector<double> smoothed(const std::vector<double>& values) {
  std::vector<double> smooth(values);
  for (std::size_t i = 1; i + 1 < values.size(); ++i) smooth[i] = (values[i - 1] + values[i] + values[i + 1]) / 3.0;
  return smooth;
}

double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - std::floor(at)) * (values[above] - values[below]);
}

/// The level on a scale of its own: 0 midway, -1 and 1 at the ends.
struct LevelScale {
  double middle_db = 0;
  double half_range_db = 1;
  double at(double level_db) const { return (level_db - middle_db) / half_range_db; }
};

LevelScale level_scale(const std::vector<double>& smooth_db) {
  const auto [low, high] = std::minmax_element(smooth_db.begin(), smooth_db.end());
  return {0.5 * (*low + *high), std::max(0.5 * (*high - *low), 1e-6)};
}

/// A linear function of the regression's coefficients, with its variance for noise of variance 1.
struct Read {
  double cents = 0;
  double variance = 0;
};

Read read_off(const OuRegression& fit, const std::vector<double>& by) {
  Read read;
  for (std::size_t i = 0; i < by.size(); ++i) {
    read.cents += by[i] * fit.coefficient[i];
    for (std::size_t j = 0; j < by.size(); ++j) read.variance += by[i] * by[j] * fit.covariance[i][j];
  }
  return read;
}

std::vector<double> at_level(double u) { return {1.0, u, u * u, 0.0}; }

struct SwellNoise {
  OuNoise noise;
  double variance_cents2 = unseen_variance_cents2;
};

SwellNoise likeliest_noise(const Wander& wander, std::size_t hold) {
  SwellNoise best;
  double weight = 0;
  for (const WanderShape& s : wander.shapes) {
    if (s.weight <= weight) continue;
    weight = s.weight;
    best = {s.noise, std::max(s.variance_cents2[hold], 1e-6)};
  }
  return best;
}

}  // namespace

bool is_swell(const NamedHold& hold) {
  const PitchCurve curve = pitch_curve(hold);
  if (curve.time_s.size() < 10) return false;
  const double length_s = curve.time_s.back() - curve.time_s.front();
  if (length_s < least_length_s) return false;
  const Line level = straight_line(curve.time_s, curve.level_db);
  const Line pitch = straight_line(curve.time_s, curve.cents);
  return std::abs(level.slope) * length_s > least_sweep_db && level.straightness > least_straightness &&
         pitch.slope * level.slope > 0 && std::abs(pitch.slope) * length_s > least_sweep_cents;
}

PitchCurve swell_curve(const NamedHold& hold) {
  PitchCurve curve = pitch_curve(hold);
  const auto settled = std::find_if(curve.time_s.begin(), curve.time_s.end(),
                                    [&](double t) { return t >= curve.time_s.front() + settling_s; });
  const auto cut = settled - curve.time_s.begin();
  for (auto* values : {&curve.time_s, &curve.cents, &curve.level_db}) values->erase(values->begin(), values->begin() + cut);
  return curve;
}

std::vector<std::vector<double>> swell_columns(const PitchCurve& curve) {
  if (curve.time_s.empty()) return {{}, {}, {}, {}};
  const std::vector<double> smooth_db = smoothed(curve.level_db);
  const LevelScale scale = level_scale(smooth_db);
  std::vector<std::vector<double>> columns(time_column + 1);
  for (std::size_t i = 0; i < smooth_db.size(); ++i) {
    const double u = scale.at(smooth_db[i]);
    columns[0].push_back(1.0);
    columns[1].push_back(u);
    columns[2].push_back(u * u);
    columns[time_column].push_back(curve.time_s[i]);
  }
  return columns;
}

SwellResponse swell_response(const Naming& naming, std::size_t hold, const Wander& wander) {
  const PitchCurve curve = swell_curve(naming.holds[hold]);
  const std::vector<double> smooth_db = smoothed(curve.level_db);
  const LevelScale scale = level_scale(smooth_db);
  const SwellNoise noise = likeliest_noise(wander, hold);
  const double sag_variance = sag_sd_cents_per_s * sag_sd_cents_per_s / noise.variance_cents2;
  const OuRegression fit = regress(curve.time_s, curve.cents, swell_columns(curve), noise.noise,
                                   {{time_column, sag_cents_per_s, sag_variance}});
  SwellResponse response;
  response.soft_db = percentile(smooth_db, 0.05);
  response.moderate_db = percentile(smooth_db, 0.5);
  response.hard_db = percentile(smooth_db, 0.95);
  const auto soft = at_level(scale.at(response.soft_db)), moderate = at_level(scale.at(response.moderate_db)),
             hard = at_level(scale.at(response.hard_db));
  std::vector<double> apart(hard);
  for (std::size_t i = 0; i < apart.size(); ++i) apart[i] -= soft[i];
  const auto estimate = [&](const std::vector<double>& by) {
    const Read read = read_off(fit, by);
    const double variance = read.variance * noise.variance_cents2;
    return CentsEstimate{read.cents, std::hypot(normal_u95_factor * std::sqrt(variance),
                                                naming.holds[hold].hold.frequency_u95_cents)};
  };
  response.soft = estimate(soft);
  response.moderate = estimate(moderate);
  response.hard = estimate(hard);
  response.spread = estimate(apart);
  return response;
}

}  // namespace windway
