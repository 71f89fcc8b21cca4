// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/undertone.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <optional>
#include <vector>

#include "pitch/noise_power.hpp"

namespace windway {

namespace {

constexpr double lowest_hz = 75.0;            // voices too, to be told from flutes
constexpr int highest_line = 7;               // of the lower pitch's harmonics looked at
constexpr double least_share = 0.01;          // of the tone's power. A fundamental 12 dB under two harmonics has 0.03
constexpr double least_lowest_share = 0.006;  // a room may take 6 dB of that; more: echoes of other notes
constexpr double least_in_step =
    0.7;  // fundamentals in a room or in loud breath noise: 0.78 and more, all but one in 10,000
constexpr double most_wandering = 0.12;  // noise of the bore; a fundamental in a church may keep no more than 0.2
constexpr long least_frames = 12;        // 0.12 s

double top_hz(const SpectrumFrame& spectrum, double bin_hz) {
  return 2.0 * band_share * static_cast<double>(spectrum.power.size() - 1) * bin_hz;
}

std::complex<double> line_at(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  return spectrum.amplitude[nearest_bin(hz / bin_hz)];
}

double power_at(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  return std::norm(spectrum.amplitude[nearest_bin(hz / bin_hz)]);
}

double tone_power(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  double power = 0;
  for (int h = 1; h <= 5 && h * hz < top_hz(spectrum, bin_hz); ++h) power += power_at(spectrum, h * hz, bin_hz);
  return power;
}

/// The lines that a pitch of hz / divisor would add, as multiples of it.
std::vector<int> added_lines(double hz, int divisor, double highest_hz) {
  std::vector<int> lines;
  for (int k = 1; k <= highest_line && k * hz / divisor < highest_hz; ++k) {
    if (std::gcd(k, divisor) == 1) lines.push_back(k);
  }
  return lines;
}

/// Of the pitch's harmonics, the one strongest over the frames: its phase is the surest.
int strongest_harmonic(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  int strongest = 1;
  double most = 0;
  for (int h = 1; h <= 5; ++h) {
    double power = 0;
    for (const HeardFrame& frame : frames) {
      if (h * frame.hz < top_hz(*frame.spectrum, scale.bin_hz)) {
        power += power_at(*frame.spectrum, h * frame.hz, scale.bin_hz);
      }
    }
    if (power > most) strongest = h;
    most = std::max(most, power);
  }
  return strongest;
}

/// The phase of the tone at each frame, but for a constant: that of its strongest harmonic, unwrapped from frame to
/// frame by the pitch.
std::vector<double> phases_rad(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  constexpr double turn_rad = 2.0 * std::numbers::pi;
  const int h = strongest_harmonic(frames, scale);
  std::vector<double> phases;
  double unwrapped = 0;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const double hz = std::min(h * frames[i].hz, top_hz(*frames[i].spectrum, scale.bin_hz));
    const double here = std::arg(line_at(*frames[i].spectrum, hz, scale.bin_hz));
    const double since_hz = h * 0.5 * (frames[i - std::min<std::size_t>(i, 1)].hz + frames[i].hz);
    const double expected = i == 0 ? here : unwrapped + turn_rad * scale.hop_s * since_hz;
    unwrapped = expected + std::remainder(here - expected, turn_rad);
    phases.push_back(unwrapped / h);
  }
  return phases;
}

struct Step {
  double share = 0;         ///< of the tone's power that lies in the added lines
  double lowest_share = 0;  ///< likewise in the lowest of them, the fundamental
  double in_step = 0;       ///< share of the added lines' power that keeps step with the tone
};

/// Which frames tell: not those of an attack or a release, where echoes of another pitch are as loud as the tone.
std::vector<bool> sounding(std::span<const HeardFrame> frames, double hz, double bin_hz) {
  constexpr double near_pitch = 0.009;  // 15 cents
  constexpr double least_power = 0.16;  // 8 dB under the loudest frame
  std::vector<double> power;
  for (const HeardFrame& frame : frames) power.push_back(tone_power(*frame.spectrum, frame.hz, bin_hz));
  const double loudest = *std::max_element(power.begin(), power.end());
  std::vector<bool> tells;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    tells.push_back(power[i] > least_power * loudest && std::abs(frames[i].hz / hz - 1.0) < near_pitch);
  }
  return tells;
}

Step step_of(std::span<const HeardFrame> frames, const std::vector<double>& phases, const std::vector<bool>& tells,
             int divisor, const std::vector<int>& lines, const SpectrumScale& scale) {
  const auto count = std::count(tells.begin(), tells.end(), true);
  double tone = 0;
  double added = 0;
  double lowest = 0;
  std::vector<std::complex<double>> sums(lines.size());
  double noise = 0;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (!tells[i]) continue;
    tone += tone_power(*frames[i].spectrum, frames[i].hz, scale.bin_hz);
    noise += 2.0 * frames[i].noise_power;  // of the squared amplitude
    for (std::size_t l = 0; l < lines.size(); ++l) {
      const double order = static_cast<double>(lines[l]) / divisor;
      const auto line = line_at(*frames[i].spectrum, order * frames[i].hz, scale.bin_hz);
      sums[l] += line * std::polar(1.0, -phases[i] * order);
      added += std::norm(line);
      if (l == 0) lowest += std::norm(line);
    }
  }
  const double all = added - noise * static_cast<double>(lines.size());
  double kept = 0;
  for (const auto& sum : sums) kept += (std::norm(sum) - noise) / static_cast<double>(count);
  return all > 0 ? Step{all / tone, lowest / tone, kept / all} : Step{};
}

/// What is the same whichever divisor is asked about; absent where too few frames tell.
struct Doubted {
  std::span<const HeardFrame> frames;
  std::vector<double> phases_rad;
  std::vector<bool> tells;
  double hz = 0;
};

std::optional<Doubted> doubted(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  if (frames.empty()) return std::nullopt;
  std::vector<double> all_hz;
  for (const HeardFrame& frame : frames) all_hz.push_back(frame.hz);
  const auto middle = all_hz.begin() + static_cast<long>(all_hz.size() / 2);
  std::nth_element(all_hz.begin(), middle, all_hz.end());
  Doubted pitch{frames, phases_rad(frames, scale), sounding(frames, *middle, scale.bin_hz), *middle};
  return std::count(pitch.tells.begin(), pitch.tells.end(), true) < least_frames ? std::nullopt : std::optional(pitch);
}

Step step_of(const Doubted& pitch, int divisor, const SpectrumScale& scale) {
  const double highest_hz = top_hz(*pitch.frames.front().spectrum, scale.bin_hz) - scale.bin_hz * 4.0;
  return step_of(pitch.frames, pitch.phases_rad, pitch.tells, divisor, added_lines(pitch.hz, divisor, highest_hz),
                 scale);
}

}  // namespace

std::optional<double> harmonic_ratio(double hz, double reference_hz) {
  constexpr double within = 0.015;  // a quarter of a semitone
  for (int q = 1; q <= 5; ++q) {
    const double p = std::round(q * hz / reference_hz);
    if (p >= 1.0 && p <= 5.0 && std::abs(q * hz / reference_hz / p - 1.0) < within) return p / q;
  }
  return std::nullopt;
}

bool may_have_undertone(const SpectrumFrame& spectrum, double hz, const SpectrumScale& scale) {
  const double least = 0.5 * least_share * tone_power(spectrum, hz, scale.bin_hz);
  for (int divisor = 2; divisor <= 5 && hz / divisor >= lowest_hz; ++divisor) {
    if (power_at(spectrum, hz / divisor, scale.bin_hz) > 0.3 * least) return true;
  }
  return false;
}

int undertone_divisor(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  const auto pitch = doubted(frames, scale);
  for (int divisor = 5; pitch && divisor >= 2; --divisor) {
    if (pitch->hz / divisor < lowest_hz) continue;
    const Step step = step_of(*pitch, divisor, scale);
    if (step.share > least_share && step.lowest_share > least_lowest_share && step.in_step > least_in_step) {
      return divisor;
    }
  }
  return 1;
}

bool half_wanders(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  const auto pitch = doubted(frames, scale);
  return pitch && step_of(*pitch, 2, scale).in_step < most_wandering;
}

}  // namespace windway
