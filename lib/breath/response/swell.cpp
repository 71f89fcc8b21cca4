// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/swell.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "breath/blows/breath_strength.hpp"

namespace windway {
namespace {

constexpr double end_share = 0.1;  ///< of the time, softest and hardest: the 5th percentile is its middle

constexpr double sag_cents_per_s = -0.7;
/// Anywhere from none to twice as much (JCGM 100:2008, 4.3.7: 0.7 / sqrt 3).
constexpr double sag_sd_cents_per_s = 0.4;

/// Weights of the blocks in a mean.
using Weights = std::vector<double>;

double weighted(const Weights& weights, const std::vector<double>& values) {
  return std::inner_product(weights.begin(), weights.end(), values.begin(), 0.0);
}

/// The blocks of a swell in order of strength, and which share of the time each takes up there, from 0 to 1.
struct ByStrength {
  std::vector<std::size_t> block;  ///< softest first
  std::vector<double> until;       ///< where it ends
};

/// The parts of the hold before and after the curve count with its first and last block: the breath blew there too, and
/// attack and release are cut unequally.
ByStrength by_strength(const PitchCurve& curve, const Hold& hold) {
  const std::vector<double> strength = breath_strength(curve);
  const std::size_t n = strength.size();
  const double half_s = 0.5 * (hold.end_s - hold.start_s);
  const double block_s = (curve.time_s.back() - curve.time_s.front()) / static_cast<double>(n - 1);
  std::vector<double> length_s(n, block_s);
  length_s.front() += std::max(0.0, curve.time_s.front() - 0.5 * block_s + half_s);
  length_s.back() += std::max(0.0, half_s - curve.time_s.back() - 0.5 * block_s);
  const double whole_s = std::accumulate(length_s.begin(), length_s.end(), 0.0);
  ByStrength order{std::vector<std::size_t>(n), {}};
  std::iota(order.block.begin(), order.block.end(), 0U);
  std::stable_sort(order.block.begin(), order.block.end(),
                   [&](std::size_t a, std::size_t b) { return strength[a] < strength[b]; });
  double until = 0;
  for (std::size_t b : order.block) order.until.push_back(until += length_s[b] / whole_s);
  return order;
}

/// How much of each block, softest first, lies between two shares of the time.
Eigen::VectorXd between(const ByStrength& order, double from, double to) {
  Eigen::VectorXd parts(static_cast<Eigen::Index>(order.until.size()));
  double begin = 0;
  for (Eigen::Index i = 0; i < parts.size(); ++i) {
    const double end = order.until[static_cast<std::size_t>(i)];
    parts[i] = std::max(0.0, std::min(end, to) - std::max(begin, from));
    begin = end;
  }
  return parts;
}

Weights in_time(const ByStrength& order, const Eigen::VectorXd& weights) {
  Weights by_block(order.block.size());
  for (std::size_t i = 0; i < by_block.size(); ++i) by_block[order.block[i]] = weights[static_cast<Eigen::Index>(i)];
  return by_block;
}

Weights end_weights(const ByStrength& order, double from, double to) {
  const Eigen::VectorXd parts = between(order, from, to);
  return in_time(order, parts / parts.sum());
}

/// Of the middle of a parabola over the share of the time.
Weights middle_weights(const ByStrength& order) {
  const Eigen::VectorXd parts = between(order, end_share, 1.0 - end_share);
  Eigen::MatrixX3d powers(parts.size(), 3);
  double begin = 0;
  for (Eigen::Index i = 0; i < parts.size(); ++i) {
    const double end = order.until[static_cast<std::size_t>(i)], off = 0.5 * (begin + end) - 0.5;
    powers.row(i) << 1.0, off, off * off;
    begin = end;
  }
  const Eigen::Matrix3Xd weighted_powers = powers.transpose() * parts.asDiagonal();
  const Eigen::Vector3d constant = (weighted_powers * powers).ldlt().solve(Eigen::Vector3d::UnitX());
  return in_time(order, weighted_powers.transpose() * constant);
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

/// Variance of a weighted mean under the wander.
double wander_cents2(const PitchCurve& curve, const Weights& weights, const SwellNoise& wander) {
  double variance = 0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    variance += wander.noise.white_share * weights[i] * weights[i];
    for (std::size_t j = 0; j < weights.size(); ++j)
      variance += weights[i] * weights[j] * std::exp(-std::abs(curve.time_s[i] - curve.time_s[j]) / wander.noise.tau_s);
  }
  return variance * wander.variance_cents2;
}

/// A weighted mean of the pitch, as with the air of the middle of the breath, with all its doubts.
CentsEstimate read_off(const PitchCurve& curve, const Weights& weights, const SwellNoise& wander,
                       double reading_u95_cents) {
  const double after_middle_s = weighted(weights, curve.time_s);
  const double sd = std::hypot(std::sqrt(wander_cents2(curve, weights, wander)), sag_sd_cents_per_s * after_middle_s);
  return {weighted(weights, curve.cents) - sag_cents_per_s * after_middle_s,
          std::hypot(normal_u95_factor * sd, reading_u95_cents)};
}

Weights difference(Weights a, const Weights& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
  return a;
}

}  // namespace

std::vector<std::vector<double>> swell_columns(const PitchCurve& curve) {
  std::vector<double> squares;
  const std::vector<double> strength = breath_strength(curve);
  for (double s : strength) squares.push_back(s * s);
  return {std::vector<double>(strength.size(), 1.0), strength, squares, curve.time_s};
}

SwellResponse swell_response(const Naming& naming, std::size_t hold, const Wander& wander) {
  const NamedHold& named = naming.holds[hold];
  const PitchCurve curve = pitch_curve(named);
  const ByStrength order = by_strength(curve, named.hold);
  const Weights soft = end_weights(order, 0.0, end_share), hard = end_weights(order, 1.0 - end_share, 1.0);
  const Weights sweep = difference(hard, soft);
  const SwellNoise noise = likeliest_noise(wander, hold);
  const auto read = [&](const Weights& weights) {
    return read_off(curve, weights, noise, named.hold.frequency_u95_cents);
  };
  return {read(soft),  read(middle_weights(order)),     read(hard),
          read(sweep), weighted(sweep, curve.level_db), weighted(sweep, curve.noise_db)};
}

std::map<std::size_t, SwellResponse> with_common_range(std::map<std::size_t, SwellResponse> swells) {
  const double n = static_cast<double>(swells.size());
  double mean_db = 0, squares = 0;
  for (const auto& [hold, s] : swells) mean_db += s.range_db / n;
  for (const auto& [hold, s] : swells) squares += std::pow(s.range_db - mean_db, 2);
  const double trust = std::min(1.0, 2.0 * repeat_db * repeat_db * std::max(1.0, n - 1.0) / std::max(squares, 1e-12));
  for (auto& [hold, s] : swells) s.range_db = mean_db + trust * (s.range_db - mean_db);
  return swells;
}

}  // namespace windway
