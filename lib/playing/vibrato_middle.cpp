// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/vibrato_middle.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace windway {
namespace {

constexpr double slowest_hz = 3.5, fastest_hz = 8.0, rate_step_hz = 0.1;  // of a player's vibrato (from memory)
constexpr double rate_varies_hz = 0.8;                                    // from note to note (judgement)
constexpr double frame_noise_cents = 4.0;  // of what is no vibrato, frames not being independent

/// A note's pitch as a constant, a slope and a sine of one rate.
struct Swing {
  std::vector<double> cents;  ///< of the sine alone, by steady frame
  double sine_squares = 0;
  double rest_squares = 0;  ///< residual sum of squares
};

/// `ridge`: how firmly the sine is held to nothing; noise over depth, squared.
Swing fit_swing(const MelodyNote& note, double rate_hz, double ridge) {
  const double first_s = note.steady.front().at_s, last_s = note.steady.back().at_s;
  const double middle_s = 0.5 * (first_s + last_s), length_s = std::max(0.01, last_s - first_s);
  const auto frames = static_cast<Eigen::Index>(note.steady.size());
  Eigen::MatrixXd columns(frames, 4);
  Eigen::VectorXd cents(frames);
  for (Eigen::Index i = 0; i < frames; ++i) {
    const MelodyFrame& frame = note.steady[static_cast<std::size_t>(i)];
    const double at_s = frame.at_s - middle_s;
    const double turn_rad = 2.0 * std::numbers::pi * rate_hz * at_s;
    columns.row(i) << 1.0, at_s / length_s, std::cos(turn_rad), std::sin(turn_rad);
    cents(i) = frame.cents;
  }
  cents.array() -= cents.mean();
  Eigen::Matrix4d normal = columns.transpose() * columns;
  normal(1, 1) += 1.0;  // a slope of a few cents over a note is no surprise, of many it is
  normal(2, 2) += ridge;
  normal(3, 3) += ridge;
  const Eigen::Vector4d fitted = normal.ldlt().solve(columns.transpose() * cents);
  const Eigen::VectorXd sine = columns.rightCols(2) * fitted.tail(2);
  return {{sine.begin(), sine.end()}, sine.squaredNorm(), (cents - columns * fitted).squaredNorm()};
}

/// True where a whole period of the slowest vibrato fits in.
bool is_telling(const MelodyNote& note) {
  return (note.steady.back().at_s - note.steady.front().at_s) * slowest_hz >= 1.0;
}

}  // namespace

MelodyVibrato find_vibrato(const std::map<int, std::vector<MelodyNote>>& occurrences) {
  std::vector<const MelodyNote*> telling;
  double frames = 0;
  for (const auto& [midi, notes] : occurrences) {
    for (const MelodyNote& note : notes) {
      if (!is_telling(note)) continue;
      telling.push_back(&note);
      frames += static_cast<double>(note.steady.size());
    }
  }
  double best_hz = 0, best_sine = 0, best_rest = std::numeric_limits<double>::infinity();
  for (double rate_hz = slowest_hz; rate_hz <= fastest_hz; rate_hz += rate_step_hz) {
    double sine = 0, rest = 0;
    for (const MelodyNote* note : telling) {
      const Swing swing = fit_swing(*note, rate_hz, 1.0);
      sine += swing.sine_squares;
      rest += swing.rest_squares;
    }
    if (rest < best_rest) best_hz = rate_hz, best_sine = sine, best_rest = rest;
  }
  return {best_hz, std::sqrt(2.0 * best_sine / std::max(frames, 1.0))};
}

std::vector<double> middle_cents(const MelodyNote& note, const MelodyVibrato& vibrato) {
  std::vector<double> cents;
  for (const MelodyFrame& frame : note.steady) cents.push_back(frame.cents);
  if (vibrato.depth_cents <= 0 || cents.size() < 2) return cents;
  const double ridge = 2.0 * std::pow(frame_noise_cents / vibrato.depth_cents, 2);
  Swing best = fit_swing(note, vibrato.rate_hz, ridge);
  const double off_most_hz = is_telling(note) ? rate_varies_hz : 0.0;
  for (double off_hz = -off_most_hz; off_hz <= off_most_hz; off_hz += rate_step_hz) {
    Swing swing = fit_swing(note, vibrato.rate_hz + off_hz, ridge);
    if (swing.rest_squares < best.rest_squares) best = std::move(swing);
  }
  for (std::size_t i = 0; i < cents.size(); ++i) cents[i] -= best.cents[i];
  return cents;
}

}  // namespace windway
