// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/mean_frequency.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "pitch/spectrum.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double least_tone_over_noise = 10.0;  // power in a frame's bin; below it a phase may slip a turn
constexpr double least_share = 3e-5;  // - 90 dB of the fundamental: with less, what rounding leaves is no harmonic
// Neighbouring windows share samples: their noise is that of independent frames this much noisier (the integral of the
// Hann window's autocorrelation is two thirds of its length).
constexpr double hann_correlation_share = 2.0 / 3.0;

double wrapped_rad(double rad) { return rad - two_pi * std::round(rad / two_pi); }

std::vector<double> unwrapped_phase(const PitchTrack& track, const FrameSpan& span, int number, double reference_hz) {
  const auto h = static_cast<std::size_t>(number - 1);
  std::vector<double> phase{0.0};
  for (std::size_t i = span.first; i < span.last; ++i) {
    const Tone& a = *track.frames[i].tone;
    const Tone& b = *track.frames[i + 1].tone;
    const double turned = static_cast<double>(b.phase_rad[h]) - static_cast<double>(a.phase_rad[h]);
    const double reference = two_pi * number * reference_hz * track.hop_s;
    const double expected =
        two_pi * number * (0.5 * (static_cast<double>(a.f0_hz) + b.f0_hz) - reference_hz) * track.hop_s;
    phase.push_back(phase.back() + (expected + wrapped_rad(turned - reference - expected)) / number);
  }
  return phase;
}

/// What the other harmonics' side lobes put in the place of one: far from a tone, the Hann window's fall with the cube
/// of the distance in bins (F. J. Harris, Proc. IEEE 66 (1978) 51).
double leakage_amplitude(const Tone& tone, int number, double window_s) {
  const double harmonic_bins = tone.f0_hz * window_s;
  double leakage = 0;
  for (int other = 1; other <= harmonics_tracked; ++other) {
    const double distance_bins = std::abs(number - other) * harmonic_bins;
    if (other != number) leakage += tone.amplitude[static_cast<std::size_t>(other - 1)] / std::pow(distance_bins, 3);
  }
  return leakage / std::numbers::pi;
}

/// Variance of a frame's phase; empty where the harmonic does not stand clear of the noise throughout.
std::optional<double> phase_variance_rad2(const PitchTrack& track, const FrameSpan& span, int number) {
  const auto h = static_cast<std::size_t>(number - 1);
  const double bin_hz = 1.0 / track.window_s;
  double variance = 0;
  std::size_t drowned = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    const Tone& tone = *track.frames[i].tone;
    const double amplitude = tone.amplitude[h];
    const double leakage = leakage_amplitude(tone, number, track.window_s);
    const double residue = std::max(leakage, least_share * tone.amplitude[0]);
    const double noise_power = power_from_db(track.frames[i].noise_db) * hann_noise_bins * bin_hz;
    const double other_power = std::max(noise_power, residue * residue / 2.0);
    if (amplitude * amplitude / 2.0 < least_tone_over_noise * other_power) ++drowned;
    variance += std::min((noise_power + leakage * leakage / 2.0) / std::max(amplitude * amplitude, 1e-20), 1.0);
  }
  if (20 * drowned > span.frames()) return std::nullopt;
  return variance / static_cast<double>(span.frames());
}

struct Combined {
  std::vector<double> phase_rad;
  double noise_rad2 = 0;  ///< of one frame
  double room_rad2 = 0;   ///< of the gain over the span
};

Combined combined_phase(const PhaseCurves& curves, double room_rad2) {
  Combined combined;
  combined.phase_rad.assign(curves.frames, 0.0);
  double weights = 0;
  for (const auto& h : curves.harmonics) {
    const double weight = h.number * h.number / (h.variance_rad2 + room_rad2);
    for (std::size_t i = 0; i < curves.frames; ++i) combined.phase_rad[i] += weight * h.phase_rad[i];
    combined.noise_rad2 += weight * weight * h.variance_rad2 / (h.number * h.number);
    combined.room_rad2 += weight * weight * room_rad2 / (h.number * h.number);
    weights += weight;
  }
  for (double& phase : combined.phase_rad) phase /= weights;
  combined.noise_rad2 /= weights * weights;
  combined.room_rad2 /= weights * weights;
  return combined;
}

constexpr double start_phase_rad2 = 1e4;      // nothing known
constexpr double start_frequency_rad2 = 1e5;  // +- 50 Hz about the reference

Eigen::Matrix3d step_matrix(double hop_s) {
  Eigen::Matrix3d f = Eigen::Matrix3d::Identity();
  f(0, 1) = hop_s;
  return f;
}

Eigen::Matrix3d wander_matrix(double wander, double hop_s) {
  Eigen::Matrix3d q = Eigen::Matrix3d::Zero();
  q(0, 0) = wander * hop_s * hop_s * hop_s / 3.0;
  q(0, 1) = q(1, 0) = wander * hop_s * hop_s / 2.0;
  q(1, 1) = wander * hop_s;
  return q;
}

/// Kalman filter for phase and frequency, the frequency wandering at random; the third state keeps the first phase, so
/// that the last frame's estimate holds the phase gained over the span with its variance.
struct Filter {
  Eigen::Matrix3d step, grows;
  double noise_rad2;
  Eigen::Vector3d state = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();

  Filter(double noise, double hop_s, double wander)
      : step(step_matrix(hop_s)), grows(wander_matrix(wander, hop_s)), noise_rad2(noise) {
    covariance(0, 0) = covariance(0, 2) = covariance(2, 0) = covariance(2, 2) = start_phase_rad2;
    covariance(1, 1) = start_frequency_rad2;
  }
  void predict() {
    state = step * state;
    covariance = step * covariance * step.transpose() + grows;
  }
  void update(double phase_rad) {
    const Eigen::Vector3d gain = covariance.col(0) / (covariance(0, 0) + noise_rad2);
    state += gain * (phase_rad - state(0));
    covariance -= gain * covariance.row(0).eval();
  }
};

struct Filtered {
  std::vector<Eigen::Vector3d> state, predicted;
  std::vector<Eigen::Matrix3d> covariance, predicted_covariance;
};

Filtered filtered(const std::vector<double>& phase_rad, double noise_rad2, double hop_s, double wander) {
  Filter filter(noise_rad2, hop_s, wander);
  Filtered out;
  for (std::size_t i = 0; i < phase_rad.size(); ++i) {
    if (i > 0) filter.predict();
    out.predicted.push_back(filter.state);
    out.predicted_covariance.push_back(filter.covariance);
    filter.update(phase_rad[i]);
    out.state.push_back(filter.state);
    out.covariance.push_back(filter.covariance);
  }
  return out;
}

/// The same filter without the first phase, in plain numbers: most of the work of a hold is done here.
double log_likelihood(const std::vector<double>& phase_rad, double noise_rad2, double hop_s, double wander) {
  const Eigen::Matrix3d grows = wander_matrix(wander, hop_s);
  double phase = 0, frequency = 0;
  double pp = start_phase_rad2, pf = 0, ff = start_frequency_rad2;
  double log_variance = 0, squares = 0, product = 1.0;
  for (std::size_t i = 0; i < phase_rad.size(); ++i) {
    if (i > 0) {
      phase += hop_s * frequency;
      pp += hop_s * (2.0 * pf + hop_s * ff) + grows(0, 0);
      pf += hop_s * ff + grows(0, 1);
      ff += grows(1, 1);
    }
    const double innovation = phase_rad[i] - phase;
    const double variance = pp + noise_rad2;
    if (i > 1) {
      squares += innovation * innovation / variance;
      product *= variance;  // logarithms are dear: one for several factors
      if (product < 1e-200 || product > 1e200) {
        log_variance += std::log(product);
        product = 1.0;
      }
    }
    const double phase_gain = pp / variance, frequency_gain = pf / variance;
    phase += phase_gain * innovation;
    frequency += frequency_gain * innovation;
    ff -= frequency_gain * pf;
    pf -= phase_gain * pf;
    pp -= phase_gain * pp;
  }
  return -0.5 * (log_variance + std::log(product) + squares);
}

/// Wander, in (rad/s)^2 per second, that makes the phases most likely, from none to a wide vibrato's: to half a decade.
double likeliest_wander(const std::vector<double>& phase_rad, double noise_rad2, double hop_s) {
  double best_decade = 0;
  double best_log_likelihood = -INFINITY;
  const auto try_decade = [&](double decade) {
    const double found = log_likelihood(phase_rad, noise_rad2, hop_s, std::pow(10.0, decade));
    if (found <= best_log_likelihood) return;
    best_log_likelihood = found;
    best_decade = decade;
  };
  for (double decade = -5.0; decade <= 7.0; decade += 1.0) try_decade(decade);
  const double whole_decade = best_decade;
  try_decade(whole_decade - 0.5);
  try_decade(whole_decade + 0.5);
  return std::pow(10.0, best_decade);
}

/// Rauch-Tung-Striebel smoother: the frequency at every frame from all frames.
std::vector<double> smoothed_hz(const Filtered& f, double hop_s, double reference_hz) {
  const Eigen::Matrix2d step = step_matrix(hop_s).topLeftCorner<2, 2>();
  std::vector<double> hz(f.state.size());
  Eigen::Vector2d next = f.state.back().head<2>();
  hz.back() = reference_hz + next(1) / two_pi;
  for (std::size_t i = f.state.size() - 1; i-- > 0;) {
    const Eigen::Matrix2d covariance = f.covariance[i].topLeftCorner<2, 2>();
    const Eigen::Matrix2d ahead = f.predicted_covariance[i + 1].topLeftCorner<2, 2>();
    const Eigen::Matrix2d gain = covariance * step.transpose() * ahead.inverse();
    next = f.state[i].head<2>() + gain * (next - f.predicted[i + 1].head<2>());
    hz[i] = reference_hz + next(1) / two_pi;
  }
  return hz;
}

}  // namespace

PhaseCurves phase_curves(const PitchTrack& track, const FrameSpan& span, double reference_hz) {
  PhaseCurves curves{reference_hz, track.hop_s, track.window_s, span.frames(), {}};
  for (int number = 1; number <= harmonics_tracked; ++number) {
    const auto variance = phase_variance_rad2(track, span, number);
    if (!variance && number > 1) continue;
    curves.harmonics.push_back({number, variance.value_or(1.0), unwrapped_phase(track, span, number, reference_hz)});
  }
  return curves;
}

MeanFrequency mean_frequency(const PhaseCurves& curves, double room_rad2) {
  const Combined combined = combined_phase(curves, room_rad2);
  const double noise_rad2 =
      std::max(combined.noise_rad2, 1e-12) * std::max(1.0, hann_correlation_share * curves.window_s / curves.hop_s);
  const double wander = likeliest_wander(combined.phase_rad, noise_rad2, curves.hop_s);
  const Filtered f = filtered(combined.phase_rad, noise_rad2, curves.hop_s, wander);
  const double duration_s = static_cast<double>(curves.frames - 1) * curves.hop_s;
  const Eigen::Matrix3d& p = f.covariance.back();
  const double gain_rad = f.state.back()(0) - f.state.back()(2);
  const double variance_rad2 = p(0, 0) + p(2, 2) - 2.0 * p(0, 2) + combined.room_rad2;
  return {curves.reference_hz + gain_rad / (two_pi * duration_s),
          std::sqrt(std::max(variance_rad2, 0.0)) / (two_pi * duration_s),
          smoothed_hz(f, curves.hop_s, curves.reference_hz)};
}

std::vector<HarmonicGain> harmonic_gains(const PhaseCurves& curves) {
  const std::size_t ends = std::max<std::size_t>(1, std::min<std::size_t>(5, curves.frames / 4));
  std::vector<HarmonicGain> gains;
  for (const auto& h : curves.harmonics) {
    double gain = 0;
    for (std::size_t i = 0; i < ends; ++i) gain += h.phase_rad[curves.frames - 1 - i] - h.phase_rad[i];
    gains.push_back({h.number, gain / static_cast<double>(ends), 2.0 * h.variance_rad2});
  }
  return gains;
}

}  // namespace windway
