// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/vibrato_middle.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace windway {
namespace {

constexpr double slowest_hz = 3.5, fastest_hz = 8.0, rate_step_hz = 0.1;  // of a player's vibrato (from memory)
constexpr double rate_varies_hz = 0.8;                                    // from note to note (judgement)
constexpr double telling_s = 0.35;                                        // of steady frames: some two swings
constexpr double least_depth_cents = 3.0;
constexpr double least_share = 0.5;           // of the pitch's movement within its notes
constexpr double frame_noise_cents = 4.0;     // of what is no vibrato, frames being no independent witnesses
constexpr std::size_t most_runs_heard = 300;  // tell the rate well enough

/// A run's pitch as a constant, a slope and a sine of one rate.
struct Swing {
  std::vector<double> cents;  ///< of the sine alone, by steady frame
  double sine_squares = 0;
  double rest_squares = 0;  ///< left over
};

std::vector<double> steady_cents(const Melody& melody, const NoteRun& run) {
  std::vector<double> cents;
  for (const std::size_t i : run.steady) cents.push_back(melody.frames[i].cents);
  return cents;
}

/// `ridge`: how firmly the sine is held to nothing; noise over depth, squared.
Swing fit_swing(const Melody& melody, const NoteRun& run, double rate_hz, double ridge) {
  const auto frames = static_cast<Eigen::Index>(run.steady.size());
  const double middle = 0.5 * static_cast<double>(run.steady.front() + run.steady.back());
  const double length = std::max<double>(1.0, static_cast<double>(run.steady.back() - run.steady.front()));
  Eigen::MatrixXd columns(frames, 4);
  Eigen::VectorXd cents(frames);
  for (Eigen::Index i = 0; i < frames; ++i) {
    const std::size_t frame = run.steady[static_cast<std::size_t>(i)];
    const double at = static_cast<double>(frame) - middle;
    const double turn_rad = 2.0 * std::numbers::pi * rate_hz * at * melody.hop_s;
    columns.row(i) << 1.0, at / length, std::cos(turn_rad), std::sin(turn_rad);
    cents(i) = melody.frames[frame].cents;
  }
  const double mean = cents.mean();
  Eigen::Matrix4d normal = columns.transpose() * columns;
  normal(1, 1) += 1.0;  // a slope of a few cents over a note is no surprise, of many it is
  normal(2, 2) += ridge;
  normal(3, 3) += ridge;
  const Eigen::Vector4d fitted = normal.ldlt().solve(columns.transpose() * (cents.array() - mean).matrix());
  const Eigen::VectorXd sine = columns.rightCols(2) * fitted.tail(2);
  const Eigen::VectorXd rest = (cents.array() - mean).matrix() - columns * fitted;
  return {{sine.begin(), sine.end()}, sine.squaredNorm(), rest.squaredNorm()};
}

}  // namespace

std::optional<MelodyVibrato> find_vibrato(const Melody& melody, const std::vector<NoteRun>& runs) {
  std::vector<const NoteRun*> telling;
  for (const NoteRun& run : runs)
    if (run.steady.size() >= melody.frames_in(telling_s) && telling.size() < most_runs_heard) telling.push_back(&run);
  if (telling.empty()) return std::nullopt;
  double best_hz = 0, best_sine = 0, best_rest = 1e300, frames = 0;
  for (const NoteRun* run : telling) frames += static_cast<double>(run->steady.size());
  for (double rate_hz = slowest_hz; rate_hz <= fastest_hz; rate_hz += rate_step_hz) {
    double sine = 0, rest = 0;
    for (const NoteRun* run : telling) {
      const Swing swing = fit_swing(melody, *run, rate_hz, 1.0);
      sine += swing.sine_squares;
      rest += swing.rest_squares;
    }
    if (rest < best_rest) best_hz = rate_hz, best_sine = sine, best_rest = rest;
  }
  const double depth_cents = std::sqrt(2.0 * best_sine / frames);
  if (depth_cents < least_depth_cents || best_sine < least_share * (best_sine + best_rest)) return std::nullopt;
  return MelodyVibrato{best_hz, depth_cents};
}

std::vector<double> middle_cents(const Melody& melody, const NoteRun& run,
                                 const std::optional<MelodyVibrato>& vibrato) {
  std::vector<double> cents = steady_cents(melody, run);
  if (!vibrato || cents.size() < 2) return cents;
  const double ridge = 2.0 * std::pow(frame_noise_cents / vibrato->depth_cents, 2);
  Swing best = fit_swing(melody, run, vibrato->rate_hz, ridge);
  if (run.steady.size() >= melody.frames_in(telling_s)) {
    for (double off_hz = -rate_varies_hz; off_hz <= rate_varies_hz; off_hz += rate_step_hz) {
      Swing swing = fit_swing(melody, run, vibrato->rate_hz + off_hz, ridge);
      if (swing.rest_squares < best.rest_squares) best = std::move(swing);
    }
  }
  for (std::size_t i = 0; i < cents.size(); ++i) cents[i] -= best.cents[i];
  return cents;
}

}  // namespace windway
