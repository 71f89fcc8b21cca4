// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/pitch_curve.hpp"

#include <algorithm>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr double plain_block_s = 0.05;  ///< close to the length of the pitch track's window
/// A plain block and the track's Hann window of 48 ms, as one even stretch of the same spread.
constexpr double plain_read_over_s = 0.058;
constexpr double least_swell_s = 0.8;   ///< in less a parabola is not fitted (judgement)
constexpr double longest_hop_s = 0.03;  ///< points farther apart have a broken part between them

/// One unbroken stretch of the curve with its running integrals (trapezoids), so that a block may begin and end
/// anywhere.
class Stretch {
 public:
  Stretch(const NamedHold& named, std::size_t from, std::size_t to) {
    const std::vector<HoldPoint>& points = named.hold.curve;
    for (std::size_t i = from; i < to; ++i) {
      const double cents = cents_between(named.target_hz, points[i].f0_hz) + named.brought_cents;
      if (i > from) {
        const double half_s = 0.5 * (points[i].time_s - points[i - 1].time_s);
        cents_s_.push_back(cents_s_.back() + half_s * (cents + last_cents_));
        level_db_s_.push_back(level_db_s_.back() + half_s * (points[i].level_db + points[i - 1].level_db));
        noise_db_s_.push_back(noise_db_s_.back() + half_s * (points[i].noise_db + points[i - 1].noise_db));
      }
      last_cents_ = cents;
      time_s_.push_back(points[i].time_s);
    }
  }

  double start_s() const { return time_s_.front(); }
  double end_s() const { return time_s_.back(); }
  double mean_cents(double from_s, double to_s) const { return mean(cents_s_, from_s, to_s); }
  double mean_level_db(double from_s, double to_s) const { return mean(level_db_s_, from_s, to_s); }
  double mean_noise_db(double from_s, double to_s) const { return mean(noise_db_s_, from_s, to_s); }

 private:
  double integral_to(const std::vector<double>& integral, double at_s) const {
    const auto after = std::upper_bound(time_s_.begin() + 1, time_s_.end() - 1, at_s);
    const auto i = static_cast<std::size_t>(after - time_s_.begin());
    const double share = (at_s - time_s_[i - 1]) / (time_s_[i] - time_s_[i - 1]);
    return integral[i - 1] + share * (integral[i] - integral[i - 1]);
  }
  double mean(const std::vector<double>& integral, double from_s, double to_s) const {
    return (integral_to(integral, to_s) - integral_to(integral, from_s)) / (to_s - from_s);
  }

  double last_cents_ = 0;
  std::vector<double> time_s_;
  std::vector<double> cents_s_{0.0};
  std::vector<double> level_db_s_{0.0};
  std::vector<double> noise_db_s_{0.0};
};

std::vector<Stretch> unbroken_stretches(const NamedHold& named) {
  const std::vector<HoldPoint>& points = named.hold.curve;
  std::vector<Stretch> stretches;
  std::size_t from = 0;
  for (std::size_t i = 1; i <= points.size(); ++i) {
    if (i < points.size() && points[i].time_s - points[i - 1].time_s < longest_hop_s) continue;
    if (i - from > 1) stretches.emplace_back(named, from, i);
    from = i;
  }
  return stretches;
}

}  // namespace

PitchCurve pitch_curve(const NamedHold& named) {
  const Hold& hold = named.hold;
  const double middle_s = 0.5 * (hold.start_s + hold.end_s);
  const double block_s = hold.vibrato_hz ? 1.0 / *hold.vibrato_hz : plain_block_s;
  PitchCurve curve;
  curve.read_over_s = std::max(block_s, plain_read_over_s);
  for (const Stretch& stretch : unbroken_stretches(named)) {
    const auto blocks = static_cast<int>((stretch.end_s() - stretch.start_s()) / block_s + 1e-6);
    for (int k = 0; k < blocks; ++k) {
      const double from_s = stretch.start_s() + k * block_s;
      curve.time_s.push_back(from_s + 0.5 * block_s - middle_s);
      curve.cents.push_back(stretch.mean_cents(from_s, from_s + block_s));
      curve.level_db.push_back(stretch.mean_level_db(from_s, from_s + block_s));
      curve.noise_db.push_back(stretch.mean_noise_db(from_s, from_s + block_s));
    }
  }
  return curve;
}

bool is_long_enough_for_a_swell(const NamedHold& hold) {
  const PitchCurve curve = pitch_curve(hold);
  return !curve.time_s.empty() && curve.time_s.back() - curve.time_s.front() >= least_swell_s;
}

std::vector<std::vector<double>> steady_columns(const PitchCurve& curve) {
  return {std::vector<double>(curve.time_s.size(), 1.0), curve.time_s};
}

}  // namespace windway
