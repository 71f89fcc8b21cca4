// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/vibrato_middle.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "segmentation/vibrato.hpp"

namespace windway {
namespace {

constexpr double slowest_hz = 3.5, fastest_hz = 8.0, rate_step_hz = 0.1;  // of a player's vibrato (from memory)
constexpr double rate_varies_hz = 0.8;                                    // from note to note (judgement)
constexpr double frame_noise_cents = 4.0;  // of what is no vibrato, frames not being independent

/// The times of a note's steady frames, and their cents above 440 Hz.
struct PitchCurve {
  std::vector<double> times_s, cents;
};

PitchCurve curve_of(const MelodyNote& note) {
  PitchCurve curve;
  for (const MelodyFrame& frame : note.steady) {
    curve.times_s.push_back(frame.at_s);
    curve.cents.push_back(frame.cents);
  }
  return curve;
}

/// `sine_prior`: noise over depth, squared. A slope of a few cents over a note is no surprise, of many it is.
SineFit fit_swing(const PitchCurve& curve, double rate_hz, double sine_prior) {
  const double length_s = std::max(0.01, curve.times_s.back() - curve.times_s.front());
  return fit_sine(curve.times_s, curve.cents, rate_hz, {sine_prior, length_s * length_s});
}

double sine_squares(const SineFit& swing, const PitchCurve& curve) {
  double squares = 0;
  for (const double at_s : curve.times_s) squares += std::pow(swing.sine_at(at_s), 2);
  return squares;
}

/// True where a whole period of the slowest vibrato fits in.
bool is_telling(const MelodyNote& note) {
  return (note.steady.back().at_s - note.steady.front().at_s) * slowest_hz >= 1.0;
}

}  // namespace

MelodyVibrato find_vibrato(const std::map<int, std::vector<MelodyNote>>& occurrences) {
  std::vector<PitchCurve> telling;
  double frames = 0;
  for (const auto& [midi, notes] : occurrences) {
    for (const MelodyNote& note : notes) {
      if (!is_telling(note)) continue;
      telling.push_back(curve_of(note));
      frames += static_cast<double>(note.steady.size());
    }
  }
  double best_hz = 0, best_sine = 0, best_rest = std::numeric_limits<double>::infinity();
  for (double rate_hz = slowest_hz; rate_hz <= fastest_hz; rate_hz += rate_step_hz) {
    double sine = 0, rest = 0;
    for (const PitchCurve& curve : telling) {
      const SineFit swing = fit_swing(curve, rate_hz, 1.0);
      sine += sine_squares(swing, curve);
      rest += swing.residual_squares;
    }
    if (rest < best_rest) best_hz = rate_hz, best_sine = sine, best_rest = rest;
  }
  return {best_hz, std::sqrt(2.0 * best_sine / std::max(frames, 1.0))};
}

std::vector<double> middle_cents(const MelodyNote& note, const MelodyVibrato& vibrato) {
  PitchCurve curve = curve_of(note);
  if (vibrato.depth_cents <= 0 || curve.cents.size() < 2) return curve.cents;
  const double sine_prior = 2.0 * std::pow(frame_noise_cents / vibrato.depth_cents, 2);
  SineFit best = fit_swing(curve, vibrato.rate_hz, sine_prior);
  const double off_most_hz = is_telling(note) ? rate_varies_hz : 0.0;
  for (double off_hz = -off_most_hz; off_hz <= off_most_hz; off_hz += rate_step_hz) {
    const SineFit swing = fit_swing(curve, vibrato.rate_hz + off_hz, sine_prior);
    if (swing.residual_squares < best.residual_squares) best = swing;
  }
  for (std::size_t i = 0; i < curve.cents.size(); ++i) curve.cents[i] -= best.sine_at(curve.times_s[i]);
  return curve.cents;
}

}  // namespace windway
