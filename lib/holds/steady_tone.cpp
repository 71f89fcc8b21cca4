// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/steady_tone.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace windway {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double windows_overlap = 2.0 / 3.0;  // frames this share of a window apart have noise of their own

struct Line {
  double middle = 0;
  double slope = 0;
};

/// Least squares over equal steps; the middle is that of the span.
Line line_through(const std::vector<double>& values) {
  const auto n = static_cast<double>(values.size());
  Line line;
  for (std::size_t i = 0; i < values.size(); ++i) {
    line.middle += values[i] / n;
    line.slope += values[i] * (static_cast<double>(i) - (n - 1.0) / 2.0);
  }
  line.slope /= n * (n * n - 1.0) / 12.0;
  return line;
}

double mean_amplitude(const PitchTrack& track, const FrameSpan& span, int number) {
  double sum = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    sum += track.frames[i].tone->amplitude[static_cast<std::size_t>(number - 1)];
  }
  return sum / static_cast<double>(span.frames());
}

}  // namespace

SteadyTone steady_tone(const PitchTrack& track, const FrameSpan& span, const PhaseCurves& curves) {
  const std::vector<double> phase = told_phase_rad(curves);
  const Line line = line_through(phase);
  const auto n = static_cast<double>(curves.frames);
  const double half_s = (n - 1.0) / 2.0 * curves.hop_s;
  SteadyTone tone;
  tone.hz = curves.reference_hz + line.slope / curves.hop_s / two_pi;
  tone.at_s = track.time_s(span.first) + half_s;
  tone.window_s = track.window_s;
  double information = 0;
  for (const auto& h : curves.harmonics) {
    const auto index = static_cast<std::size_t>(h.number - 1);
    double off = 0;
    for (std::size_t i = 0; i < curves.frames; ++i) off += (h.phase_rad[i] - phase[i]) / n;
    const double start_rad =
        track.frames[span.first].tone->phase_rad[index] + h.number * (line.middle + off - h.phase_rad.front());
    tone.harmonics.push_back({h.number, mean_amplitude(track, span, h.number),
                              start_rad + two_pi * h.number * curves.reference_hz * half_s, line.middle + off,
                              h.variance_rad2});
    information += h.number * h.number / h.variance_rad2;
  }
  tone.frame_rad2 = 1.0 / information;
  const double independent_rad2 = tone.frame_rad2 * std::max(1.0, windows_overlap * curves.window_s / curves.hop_s);
  tone.phase_rad2 = independent_rad2 / n;
  tone.slope_rad2 = independent_rad2 / (n * (n * n - 1.0) / 12.0) / (curves.hop_s * curves.hop_s);
  for (std::size_t i = 0; i < curves.frames; ++i) {
    const double off = phase[i] - line.middle - line.slope * (static_cast<double>(i) - (n - 1.0) / 2.0);
    tone.chi_squared += off * off / tone.frame_rad2 / (n - 2.0);
  }
  return tone;
}

bool is_steady(const SteadyTone& tone, const PhaseCurves& curves) {
  const double independent = static_cast<double>(curves.frames) * curves.hop_s / curves.window_s / windows_overlap;
  return tone.chi_squared < 1.0 + 3.0 * std::sqrt(2.0 / std::max(independent, 1.0));
}

}  // namespace windway
