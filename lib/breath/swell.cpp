// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/swell.hpp"

#include <algorithm>
#include <cmath>

namespace windway {
namespace {

constexpr double least_sweep_db = 3.0;
constexpr double least_range_db = 1.0;
constexpr double least_sweep_cents = 1.5;
constexpr double least_length_s = 0.8;
constexpr double least_straightness = 0.8;  ///< share of the level's variance that a straight sweep explains

constexpr double straight_sweep = 0.95;  ///< likewise, of the middle four fifths of a swell, to take it for straight
constexpr double least_noise_sweep_db = 1.5;
constexpr double sweep_without_noise_db = 6.0;  ///< where the breath is not heard, the sweep must be plain
constexpr double pitch_without_noise_cents = 6.0;

constexpr double end_share = 0.05;  ///< of the time, at either end: the strengths called soft and hard
constexpr double settling_s = 0.1;  ///< the tone overshoots as it speaks

constexpr double sag_cents_per_s = -0.7;
/// Anywhere from none to twice as much (JCGM 100:2008, 4.3.7: 0.7 / sqrt 3).
constexpr double sag_sd_cents_per_s = 0.4;
constexpr double level_sd_db = 0.08;   ///< by which the breath's flutter shifts a percentile of the level (from memory)
constexpr double flutter_tau_s = 0.3;  ///< of the breath's own unsteadiness (from memory)

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

/// Breath noise in the last fifth of a hold against that in its first: a room bends the level of a tone as its pitch
/// moves, not that of noise.
double noise_sweep_db(const std::vector<HoldPoint>& curve) {
  const std::size_t fifth = curve.size() / 5;
  double sweep = 0;
  for (std::size_t i = 0; i < fifth; ++i) sweep += curve[curve.size() - 1 - i].noise_db - curve[i].noise_db;
  return fifth == 0 ? 0.0 : sweep / static_cast<double>(fifth);
}

/// Means over three blocks: the level's own flutter must not bend the response.
std::vector<double> smoothed(const std::vector<double>& values) {
  std::vector<double> smooth(values);
  for (std::size_t i = 1; i + 1 < values.size(); ++i) smooth[i] = (values[i - 1] + values[i] + values[i + 1]) / 3.0;
  return smooth;
}

/// `smooth_db` with its ends drawn out over the parts of the hold that the curve leaves out: the breath blew there too,
/// and attack and release are cut unequally, which would shift the percentiles. While the level settles the tone is
/// only louder than it will be, so a level below the first settled one is the breath's.
std::vector<double> over_whole_hold(const PitchCurve& whole_curve, const PitchCurve& curve,
                                    const std::vector<double>& smooth_db, const Hold& hold) {
  const double half_s = 0.5 * (hold.end_s - hold.start_s);
  const double block_s = (curve.time_s.back() - curve.time_s.front()) / static_cast<double>(curve.time_s.size() - 1);
  const auto blocks = [&](double missing_s) {
    return static_cast<std::size_t>(std::max(0.0, std::round(missing_s / block_s - 0.5)));
  };
  std::vector<double> whole(smooth_db);
  double first_db = smooth_db.front();
  for (std::size_t i = whole_curve.time_s.size() - smooth_db.size(); i-- > 0;)
    whole.push_back(first_db = std::min(first_db, whole_curve.level_db[i]));
  whole.insert(whole.end(), blocks(whole_curve.time_s.front() + half_s), first_db);
  whole.insert(whole.end(), blocks(half_s - curve.time_s.back()), smooth_db.back());
  return whole;
}

/// How far a percentile may lie off because the curve ends before the hold does: the sweep may have gone on there or
/// not, with equal right.
double unseen_sd_db(const PitchCurve& curve, const Hold& hold) {
  const double length_s = hold.end_s - hold.start_s;
  const double unseen_s = 0.5 * (length_s - (curve.time_s.back() - curve.time_s.front()));
  const double sweep_db =
      std::abs(straight_line(curve.time_s, curve.level_db).slope) * std::max(0.0, unseen_s - end_share * length_s);
  return sweep_db / std::sqrt(12.0);
}

double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - std::floor(at)) * (values[above] - values[below]);
}

struct MedianLevel {
  double db = 0;
  double sd_db = level_sd_db;
};

/// The median strength of a whole hold. Of a straight sweep it is the level in the middle of the time, read off a
/// parabola through the middle four fifths of the levels, which the breath's flutter hardly shifts; else the median of
/// the levels themselves.
MedianLevel median_level(const PitchCurve& curve, const std::vector<double>& smooth_db,
                         const std::vector<double>& whole_db) {
  const double low_db = percentile(whole_db, 0.1), high_db = percentile(whole_db, 0.9);
  std::vector<double> time_s, level_db, ones, squares;
  for (std::size_t i = 0; i < smooth_db.size(); ++i) {
    if (smooth_db[i] <= low_db || smooth_db[i] >= high_db) continue;
    time_s.push_back(curve.time_s[i]);
    level_db.push_back(curve.level_db[i]);
    ones.push_back(1.0);
    squares.push_back(time_s.back() * time_s.back());
  }
  const bool straight = level_db.size() > 5 && straight_line(time_s, level_db).straightness > straight_sweep;
  if (!straight) return {percentile(whole_db, 0.5)};
  const OuRegression fit = regress(time_s, level_db, {ones, time_s, squares}, {flutter_tau_s, 0.0, curve.read_over_s});
  return {fit.coefficient[0], std::sqrt(fit.covariance[0][0] * fit.sum_of_squares / fit.degrees)};
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

std::vector<double> at_level(double u) { return {1.0, u, u * u}; }

std::vector<double> difference(std::vector<double> a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
  return a;
}

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
    best = {s.noise, s.variance_cents2[hold]};
  }
  return best;
}

/// The response, and what a sag of one cent a second would add to it.
struct SwellFit {
  OuRegression response;
  OuRegression per_sag;
  double variance_cents2 = 0;
};

SwellFit fit_swell(const PitchCurve& curve, const SwellNoise& noise) {
  std::vector<std::vector<double>> columns = swell_columns(curve);
  const std::vector<double> time_s = columns.back();
  columns.pop_back();
  std::vector<double> fresh(curve.cents);  // as with the air of the middle of the breath
  for (std::size_t i = 0; i < fresh.size(); ++i) fresh[i] -= sag_cents_per_s * time_s[i];
  const OuNoise shape{noise.noise.tau_s, noise.noise.white_share, curve.read_over_s};
  return {regress(curve.time_s, fresh, columns, shape), regress(curve.time_s, time_s, columns, shape),
          noise.variance_cents2};
}

/// Cents for each unit of the level's own scale.
double slope_at(const SwellFit& fit, double u) {
  return fit.response.coefficient[1] + 2.0 * fit.response.coefficient[2] * u;
}

/// A linear function of the coefficients with all its doubts: wander, sag, level, the reading.
CentsEstimate read_off(const SwellFit& fit, const std::vector<double>& by, double level_sd_cents,
                       double reading_u95_cents) {
  double cents = 0, variance = 0, per_sag_s = 0;
  for (std::size_t i = 0; i < by.size(); ++i) {
    cents += by[i] * fit.response.coefficient[i];
    per_sag_s += by[i] * fit.per_sag.coefficient[i];
    for (std::size_t j = 0; j < by.size(); ++j) variance += by[i] * by[j] * fit.response.covariance[i][j];
  }
  const double sd =
      std::hypot(std::sqrt(variance * fit.variance_cents2), sag_sd_cents_per_s * per_sag_s, level_sd_cents);
  return {cents, std::hypot(normal_u95_factor * sd, reading_u95_cents)};
}

}  // namespace

bool tells_a_response(const NamedHold& hold) {
  const PitchCurve curve = pitch_curve(hold);
  if (curve.time_s.empty() || curve.time_s.back() - curve.time_s.front() < least_length_s) return false;
  const auto [low, high] = std::minmax_element(curve.level_db.begin(), curve.level_db.end());
  return *high - *low > least_range_db;
}

bool is_swell(const NamedHold& hold) {
  if (!tells_a_response(hold)) return false;
  const PitchCurve curve = pitch_curve(hold);
  const double length_s = curve.time_s.back() - curve.time_s.front();
  const Line level = straight_line(curve.time_s, curve.level_db);
  const Line pitch = straight_line(curve.time_s, curve.cents);
  const double sweep_db = std::abs(level.slope) * length_s, sweep_cents = std::abs(pitch.slope) * length_s;
  const bool plain = sweep_db > sweep_without_noise_db && sweep_cents > pitch_without_noise_cents;
  const bool breath_sweeps = noise_sweep_db(hold.hold.curve) * std::copysign(1.0, level.slope) > least_noise_sweep_db;
  return sweep_db > least_sweep_db && level.straightness > least_straightness && pitch.slope * level.slope > 0 &&
         sweep_cents > least_sweep_cents && (breath_sweeps || plain);
}

PitchCurve swell_curve(const NamedHold& hold) {
  PitchCurve curve = pitch_curve(hold);
  const auto settled = std::find_if(curve.time_s.begin(), curve.time_s.end(),
                                    [&](double t) { return t >= curve.time_s.front() + settling_s; });
  const auto cut = settled - curve.time_s.begin();
  for (auto* values : {&curve.time_s, &curve.cents, &curve.level_db})
    values->erase(values->begin(), values->begin() + cut);
  return curve;
}

std::vector<std::vector<double>> swell_columns(const PitchCurve& curve) {
  if (curve.time_s.empty()) return {{}, {}, {}, {}};
  const std::vector<double> smooth_db = smoothed(curve.level_db);
  const LevelScale scale = level_scale(smooth_db);
  std::vector<std::vector<double>> columns(4);
  for (std::size_t i = 0; i < smooth_db.size(); ++i) {
    const double u = scale.at(smooth_db[i]);
    columns[0].push_back(1.0);
    columns[1].push_back(u);
    columns[2].push_back(u * u);
    columns[3].push_back(curve.time_s[i]);
  }
  return columns;
}

SwellResponse swell_response(const Naming& naming, std::size_t hold, const Wander& wander) {
  const PitchCurve whole_curve = pitch_curve(naming.holds[hold]), curve = swell_curve(naming.holds[hold]);
  const std::vector<double> smooth_db = smoothed(curve.level_db);
  const std::vector<double> whole_db = over_whole_hold(whole_curve, curve, smooth_db, naming.holds[hold].hold);
  const LevelScale scale = level_scale(smooth_db);
  const SwellFit fit = fit_swell(curve, likeliest_noise(wander, hold));
  const double reading_u95_cents = naming.holds[hold].hold.frequency_u95_cents;
  SwellResponse response;
  response.soft_db = percentile(whole_db, end_share);
  const MedianLevel median = median_level(curve, smooth_db, whole_db);
  response.moderate_db = median.db;
  response.hard_db = percentile(whole_db, 1.0 - end_share);
  const double soft = scale.at(response.soft_db), moderate = scale.at(response.moderate_db),
               hard = scale.at(response.hard_db);
  const double end_sd_db = std::hypot(level_sd_db, unseen_sd_db(whole_curve, naming.holds[hold].hold));
  const double level_sd = end_sd_db / scale.half_range_db, median_sd = median.sd_db / scale.half_range_db;
  response.soft = read_off(fit, at_level(soft), slope_at(fit, soft) * level_sd, reading_u95_cents);
  response.moderate = read_off(fit, at_level(moderate), slope_at(fit, moderate) * median_sd, reading_u95_cents);
  response.hard = read_off(fit, at_level(hard), slope_at(fit, hard) * level_sd, reading_u95_cents);
  const double ends_sd = std::hypot(slope_at(fit, soft), slope_at(fit, hard)) * level_sd;
  response.soft_cents_per_db = slope_at(fit, soft) / scale.half_range_db;
  response.moderate_cents_per_db = slope_at(fit, moderate) / scale.half_range_db;
  response.hard_cents_per_db = slope_at(fit, hard) / scale.half_range_db;
  response.noise_sweep_db = std::abs(noise_sweep_db(naming.holds[hold].hold.curve));
  response.spread = read_off(fit, difference(at_level(hard), at_level(soft)), ends_sd, reading_u95_cents);
  return response;
}

}  // namespace windway
