// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/phase_curves.hpp"

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

}  // namespace

PhaseCurves phase_curves(const PitchTrack& track, const FrameSpan& span, double reference_hz) {
  PhaseCurves curves{reference_hz,  track.hop_s, track.window_s,
                     span.frames(), {},          std::vector<double>(span.frames(), 1.0)};
  for (int number = 1; number <= harmonics_tracked; ++number) {
    const auto variance = phase_variance_rad2(track, span, number);
    if (!variance && number > 1) continue;
    curves.harmonics.push_back({number, variance.value_or(1.0), unwrapped_phase(track, span, number, reference_hz)});
  }
  return curves;
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
