// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/phase_curves.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstdint>
#include <numbers>
#include <optional>
#include <utility>

#include "pitch/spectrum.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double least_tone_over_noise = 10.0;  // power in a frame's bin; below it a phase may slip a turn
constexpr double least_share = 3e-5;  // - 90 dB of the fundamental: with less, what rounding leaves is no harmonic

/// Rounded by a cast: std::round is a call on a plain x86-64, and this is asked of every harmonic of every frame.
double wrapped_rad(double rad) {
  const double turns = rad / full_turn_rad;
  return rad - full_turn_rad * static_cast<double>(static_cast<std::int64_t>(turns + (turns < 0 ? -0.5 : 0.5)));
}

std::vector<double> unwrapped_phase(const PitchTrack& track, const FrameSpan& span, int number, double reference_hz) {
  const auto h = static_cast<std::size_t>(number - 1);
  std::vector<double> phase{0.0};
  phase.reserve(span.frames());
  for (std::size_t i = span.first; i < span.last; ++i) {
    const Tone& a = *track.frames[i].tone;
    const Tone& b = *track.frames[i + 1].tone;
    const double turned = static_cast<double>(b.phase_rad[h]) - static_cast<double>(a.phase_rad[h]);
    const double reference = full_turn_rad * number * reference_hz * track.hop_s;
    const double expected =
        full_turn_rad * number * (0.5 * (static_cast<double>(a.f0_hz) + b.f0_hz) - reference_hz) * track.hop_s;
    phase.push_back(phase.back() + (expected + wrapped_rad(turned - reference - expected)) / number);
  }
  return phase;
}

/// 1 / n^3 by n; 0 for 0.
constexpr std::array<double, harmonics_tracked> inverse_cubes() {
  std::array<double, harmonics_tracked> cubes{};
  for (std::size_t n = 1; n < cubes.size(); ++n) cubes[n] = 1.0 / static_cast<double>(n * n * n);
  return cubes;
}

/// What the other harmonics' side lobes put in the place of one: far from a tone, the Hann window's fall with the cube
/// of the distance in bins (F. J. Harris, Proc. IEEE 66 (1978) 51).
double leakage_amplitude(const Tone& tone, int number, double window_s) {
  static constexpr auto by_distance = inverse_cubes();
  const double harmonic_bins = tone.f0_hz * window_s;
  double leakage = 0;
  for (int other = 1; other <= harmonics_tracked; ++other) {
    const auto apart = static_cast<std::size_t>(std::abs(number - other));
    leakage += tone.amplitude[static_cast<std::size_t>(other - 1)] * by_distance[apart];
  }
  return leakage / (harmonic_bins * harmonic_bins * harmonic_bins * std::numbers::pi);
}

/// Noise power in a bin, by frame of the span: once for all harmonics, since each takes a power of ten.
std::vector<double> noise_powers(const PitchTrack& track, const FrameSpan& span) {
  std::vector<double> power;
  for (std::size_t i = span.first; i <= span.last; ++i)
    power.push_back(power_from_db(track.frames[i].noise_db) * hann_noise_bins / track.window_s);
  return power;
}

/// Variance of a frame's phase; empty where the harmonic does not stand clear of the noise throughout.
std::optional<double> phase_variance_rad2(const PitchTrack& track, const FrameSpan& span,
                                          const std::vector<double>& noise_power, int number) {
  const auto h = static_cast<std::size_t>(number - 1);
  double variance = 0;
  std::size_t drowned = 0;
  for (std::size_t i = 0; i < span.frames(); ++i) {
    const Tone& tone = *track.frames[span.first + i].tone;
    const double amplitude = tone.amplitude[h];
    const double leakage = leakage_amplitude(tone, number, track.window_s);
    const double residue = std::max(leakage, least_share * tone.amplitude[0]);
    const double other_power = std::max(noise_power[i], residue * residue / 2.0);
    if (amplitude * amplitude / 2.0 < least_tone_over_noise * other_power) ++drowned;
    variance += std::min((noise_power[i] + leakage * leakage / 2.0) / std::max(amplitude * amplitude, 1e-20), 1.0);
  }
  if (20 * drowned > span.frames()) return std::nullopt;
  return variance / static_cast<double>(span.frames());
}

/// Variance of a faint harmonic's phase; empty where it is lost in the noise.
std::optional<double> faint_variance_rad2(const PitchTrack& track, const FrameSpan& span, int number) {
  constexpr double least_faint = 2.0;  // power over the noise's in a frame's bin
  const auto h = static_cast<std::size_t>(number - 1);
  double power = 0;
  double other = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    const Tone& tone = *track.frames[i].tone;
    const double leakage = leakage_amplitude(tone, number, track.window_s);
    other += power_from_db(track.frames[i].noise_db) * hann_noise_bins / track.window_s + leakage * leakage / 2.0;
    power += tone.amplitude[h] * tone.amplitude[h] / 2.0;
  }
  power -= other;  // which is in what was seen
  return power > least_faint * other ? std::optional(other / (2.0 * power)) : std::nullopt;
}

/// A harmonic too faint to be followed from frame to frame: its phase about the one that the clear ones predict. Empty
/// where it is not in step with them.
std::optional<PhaseCurves::Harmonic> faint_harmonic(const PitchTrack& track, const FrameSpan& span, int number,
                                                    const PhaseCurves& curves, const std::vector<double>& guide_rad) {
  constexpr double least_in_step = 0.6;  // noise of the least power leaves 0.85
  const auto variance = faint_variance_rad2(track, span, number);
  if (!variance) return std::nullopt;
  std::vector<double> off_rad;
  std::complex<double> sum = 0;
  for (std::size_t i = 0; i < curves.frames; ++i) {
    const double seen_rad = track.frames[span.first + i].tone->phase_rad[static_cast<std::size_t>(number - 1)];
    const double turned_rad =
        full_turn_rad * curves.reference_hz * curves.hop_s * static_cast<double>(i) + guide_rad[i];
    off_rad.push_back(wrapped_rad(seen_rad - number * turned_rad));
    sum += std::polar(1.0, off_rad.back());
  }
  if (std::abs(sum) < least_in_step * static_cast<double>(curves.frames)) return std::nullopt;
  PhaseCurves::Harmonic harmonic{number, *variance, {}};
  // Counted from the first frame's phase as seen, as the others are.
  const double first_rad = wrapped_rad(off_rad.front() - std::arg(sum)) / number + guide_rad.front();
  for (std::size_t i = 0; i < curves.frames; ++i) {
    harmonic.phase_rad.push_back(guide_rad[i] + wrapped_rad(off_rad[i] - std::arg(sum)) / number - first_rad);
  }
  return harmonic;
}

}  // namespace

PhaseCurves phase_curves(const PitchTrack& track, const FrameSpan& span, double reference_hz) {
  PhaseCurves curves{reference_hz, track.hop_s, track.window_s, span.frames(), {}};
  const std::vector<double> noise_power = noise_powers(track, span);
  std::vector<int> faint;
  for (int number = 1; number <= harmonics_tracked; ++number) {
    const auto variance = phase_variance_rad2(track, span, noise_power, number);
    if (!variance) faint.push_back(number);
    if (!variance && number > 1) continue;
    curves.harmonics.push_back({number, variance.value_or(1.0), unwrapped_phase(track, span, number, reference_hz)});
  }
  if (faint.empty() || faint.front() == 1) return curves;
  const std::vector<double> guide_rad = mean_phase_rad(curves);
  for (const int number : faint) {
    if (auto harmonic = faint_harmonic(track, span, number, curves, guide_rad)) {
      curves.harmonics.push_back(std::move(*harmonic));
    }
  }
  return curves;
}

std::vector<double> mean_phase_rad(const PhaseCurves& curves) {
  std::vector<double> phase(curves.frames, 0.0);
  double weights = 0;
  for (const auto& h : curves.harmonics) weights += h.number * h.number / h.variance_rad2;
  for (const auto& h : curves.harmonics) {
    const double weight = h.number * h.number / h.variance_rad2 / weights;
    for (std::size_t i = 0; i < curves.frames; ++i) phase[i] += weight * h.phase_rad[i];
  }
  return phase;
}

std::vector<HarmonicGain> harmonic_gains(const PhaseCurves& curves) {
  const std::size_t ends = std::max<std::size_t>(1, std::min<std::size_t>(5, curves.frames / 4));
  std::vector<HarmonicGain> gains;
  for (const auto& h : curves.harmonics) {
    double gain = 0;
    for (std::size_t i = 0; i < ends; ++i) gain += h.phase_rad[curves.frames - 1 - i] - h.phase_rad[i];
    gains.push_back({h.number, gain / static_cast<double>(ends), 2.0 * h.variance_rad2, curves.frames - ends});
  }
  return gains;
}

}  // namespace windway
