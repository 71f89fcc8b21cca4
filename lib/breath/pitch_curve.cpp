// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/pitch_curve.hpp"

#include <cmath>
#include <numbers>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr double block_s = 0.05;  ///< close to the length of the pitch track's window
constexpr double whole_share = 0.75;

}  // namespace

PitchCurve pitch_curve(const NamedHold& named) {
  const Hold& hold = named.hold;
  const double middle_s = 0.5 * (hold.start_s + hold.end_s);
  PitchCurve curve;
  std::size_t from = 0;
  while (from < hold.curve.size()) {
    std::size_t to = from;
    double time_s = 0, cents = 0, level_db = 0;
    while (to < hold.curve.size() && hold.curve[to].time_s < hold.curve[from].time_s + block_s - 1e-6) {
      time_s += hold.curve[to].time_s;
      cents += cents_between(named.target_hz, hold.curve[to].f0_hz);
      level_db += hold.curve[to].level_db;
      ++to;
    }
    const double span_s = hold.curve[to - 1].time_s - hold.curve[from].time_s;
    const double n = static_cast<double>(to - from);
    from = to;
    if (span_s < whole_share * block_s) continue;  // a shorter mean would smooth a vibrato less than the others do
    curve.time_s.push_back(time_s / n - middle_s);
    curve.cents.push_back(cents / n);
    curve.level_db.push_back(level_db / n);
  }
  return curve;
}

std::vector<std::vector<double>> steady_columns(const PitchCurve& curve, std::optional<double> vibrato_hz) {
  std::vector<std::vector<double>> columns{std::vector<double>(curve.time_s.size(), 1.0), curve.time_s};
  if (!vibrato_hz) return columns;
  std::vector<double> cosine, sine;
  for (double t : curve.time_s) {
    cosine.push_back(std::cos(2.0 * std::numbers::pi * *vibrato_hz * t));
    sine.push_back(std::sin(2.0 * std::numbers::pi * *vibrato_hz * t));
  }
  columns.push_back(std::move(cosine));
  columns.push_back(std::move(sine));
  return columns;
}

}  // namespace windway
