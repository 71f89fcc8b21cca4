// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/room.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>

namespace windway {

namespace {

constexpr double freedom = 4.0;  // of Student's t: in a church one harmonic in twenty is far out
constexpr int most_rounds = 30;

/// Gains of one span, each with its weight if it were normal.
struct Span {
  std::vector<double> gain_rad, weight;

  Span(const std::vector<HarmonicGain>& gains, double room_rad2) {
    for (const HarmonicGain& g : gains) {
      gain_rad.push_back(g.gain_rad);
      weight.push_back(g.number * g.number / (g.variance_rad2 + room_rad2 * g.number));
    }
  }
  double squares(std::size_t h, double mean) const { return weight[h] * (gain_rad[h] - mean) * (gain_rad[h] - mean); }
  double trust(std::size_t h, double mean) const { return (freedom + 1.0) / (freedom + squares(h, mean)); }

  /// The likelihood is a negative power of it: one factor for each harmonic.
  double unlikelihood(double mean) const {
    double product = 1;
    for (std::size_t h = 0; h < weight.size(); ++h) product *= 1.0 + squares(h, mean) / freedom;
    return product;
  }
  /// The local maximum of the likelihood: by iterated weighted means, which never overshoot, each step lengthened
  /// towards Newton's where that is longer.
  double trusted_mean_from(double mean) const {
    constexpr double close_rad = 1e-9;
    constexpr double most_lengthened = 3.0;
    for (int round = 0; round < most_rounds; ++round) {
      double slope = 0, weights = 0, curvature = 0;
      for (std::size_t h = 0; h < weight.size(); ++h) {
        const double off_rad = gain_rad[h] - mean;
        const double off_squares = weight[h] * off_rad * off_rad;
        const double trust = 1.0 / (freedom + off_squares);
        slope += trust * weight[h] * off_rad;
        weights += trust * weight[h];
        curvature += trust * weight[h] * trust * (freedom - off_squares);
      }
      const double step = slope / weights;
      const double lengthened = curvature > 0 ? std::clamp(weights / curvature, 1.0, most_lengthened) : 1.0;
      mean += lengthened * step;
      if (std::abs(step) < close_rad) break;
    }
    return mean;
  }
  /// The likeliest mean: there may be several maxima, each near some harmonic's gain.
  double trusted_mean() const {
    double best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (const double start : gain_rad) {
      const double mean = trusted_mean_from(start);
      const double unlikely = unlikelihood(mean);
      if (unlikely >= least) continue;
      least = unlikely;
      best = mean;
    }
    return best;
  }
};

/// Over 1 where the harmonics disagree by more than noise and this room variance together explain.
double excess(const std::vector<std::vector<HarmonicGain>>& gains, double room_rad2) {
  double squares = 0;
  double expected = 0;
  for (const auto& g : gains) {
    if (g.size() < 2) continue;
    const Span span(g, room_rad2);
    const double mean = span.trusted_mean();
    for (std::size_t h = 0; h < g.size(); ++h) squares += span.trust(h, mean) * span.squares(h, mean);
    expected += static_cast<double>(g.size()) - 1.0;
  }
  return expected > 0 ? squares / expected : 0.0;
}

}  // namespace

double room_phase_variance_rad2(const std::vector<std::vector<HarmonicGain>>& gains) {
  if (excess(gains, 0.0) <= 1.0) return 0.0;
  constexpr double least_rad2 = 1e-9;
  constexpr double most_rad2 = 10.0;  // a room turns a phase by no more than about half a turn
  constexpr double close = 1e-3;      // of the variance
  const auto over = [&](double log_rad2) { return excess(gains, std::exp(log_rad2)) - 1.0; };
  const double low = std::log(least_rad2), high = std::log(most_rad2);
  const double over_low = over(low), over_high = over(high);
  if (over_low <= 0.0) return least_rad2;
  if (over_high >= 0.0) return most_rad2;
  std::uintmax_t most_trials = 60;
  const auto is_close = [](double a, double b) { return std::abs(b - a) < close; };
  const auto bracket = boost::math::tools::toms748_solve(over, low, high, over_low, over_high, is_close, most_trials);
  return std::exp(bracket.second);
}

HarmonicTrust harmonic_trust(const std::vector<HarmonicGain>& gains, double room_rad2) {
  HarmonicTrust trust;
  const Span span(gains, room_rad2);
  trust.weight = span.weight;
  if (room_rad2 <= 0) return trust;
  const double mean = span.trusted_mean();
  double squares = 0;
  double room = 0;
  for (std::size_t h = 0; h < gains.size(); ++h) {
    squares += span.squares(h, mean);
    trust.weight[h] *= span.trust(h, mean);
    room += trust.weight[h] * trust.weight[h] * room_rad2 / gains[h].number;
  }
  const double weights = std::accumulate(trust.weight.begin(), trust.weight.end(), 0.0);
  // What is known of a scale from a sample of it and a belief worth `freedom` squares: more where the span disagrees.
  const double disagreement = (freedom + squares) / (freedom + static_cast<double>(gains.size()) - 1.0);
  const double information_lost = (freedom + 3.0) / (freedom + 1.0);
  trust.variance_rad2 = room / (weights * weights) * information_lost * std::max(1.0, disagreement);
  return trust;
}

}  // namespace windway
