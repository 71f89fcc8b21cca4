// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/undertone.hpp"

#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <optional>
#include <vector>

namespace windway {

namespace {

constexpr double lowest_hz = 75.0;    // voices too, to be told from flutes
constexpr double band_share = 0.46;   // of the rate: above it the rate change has its slope
constexpr int highest_line = 7;       // of the lower pitch's harmonics looked at
constexpr double least_share = 0.01;  // of the tone's power. A fundamental 12 dB under two harmonics has 0.03
constexpr double least_in_step = 0.62;
constexpr std::size_t least_frames = 12;  // 0.12 s

double top_hz(const SpectrumFrame& spectrum, double bin_hz) {
  return 2.0 * band_share * static_cast<double>(spectrum.power.size() - 1) * bin_hz;
}

std::complex<double> line_at(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  return spectrum.amplitude[static_cast<std::size_t>(hz / bin_hz + 0.5)];
}

double power_at(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  return std::norm(spectrum.amplitude[static_cast<std::size_t>(hz / bin_hz + 0.5)]);
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

/// The phase of the tone at each frame, unwrapped from frame to frame by its pitch.
std::vector<double> phases_rad(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  constexpr double turn_rad = 2.0 * std::numbers::pi;
  std::vector<double> phases;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const double here = std::arg(line_at(*frames[i].spectrum, frames[i].hz, scale.bin_hz));
    if (i == 0) {
      phases.push_back(here);
      continue;
    }
    const double expected = phases.back() + turn_rad * scale.hop_s * 0.5 * (frames[i - 1].hz + frames[i].hz);
    phases.push_back(expected + std::remainder(here - expected, turn_rad));
  }
  return phases;
}

struct Step {
  double share = 0;    ///< of the tone's power that lies in the added lines
  double in_step = 0;  ///< share of the added lines' power that keeps step with the tone
};

Step step_of(std::span<const HeardFrame> frames, const std::vector<double>& phases, int divisor,
             const std::vector<int>& lines, const SpectrumScale& scale) {
  double kept = 0;
  double all = 0;
  double tone = 0;
  for (const HeardFrame& frame : frames) tone += tone_power(*frame.spectrum, frame.hz, scale.bin_hz);
  for (const int k : lines) {
    std::complex<double> sum = 0;
    for (std::size_t i = 0; i < frames.size(); ++i) {
      const auto line = line_at(*frames[i].spectrum, k * frames[i].hz / divisor, scale.bin_hz);
      sum += line * std::polar(1.0, -phases[i] * k / divisor);
      all += std::norm(line);
    }
    kept += std::norm(sum) / static_cast<double>(frames.size());
  }
  return {all / tone, kept / all};
}

}  // namespace

bool may_have_undertone(const SpectrumFrame& spectrum, double hz, const SpectrumScale& scale) {
  const double least = 0.5 * least_share * tone_power(spectrum, hz, scale.bin_hz);
  for (int divisor = 2; divisor <= 5 && hz / divisor >= lowest_hz; ++divisor) {
    if (power_at(spectrum, hz / divisor, scale.bin_hz) > 0.3 * least) return true;
  }
  return false;
}

int undertone_divisor(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  if (frames.size() < least_frames) return 1;
  const auto phases = phases_rad(frames, scale);
  const double hz = frames[frames.size() / 2].hz;
  const double highest_hz = top_hz(*frames.front().spectrum, scale.bin_hz) - scale.bin_hz * 4.0;
  for (int divisor = 5; divisor >= 2; --divisor) {
    if (hz / divisor < lowest_hz) continue;
    const Step step = step_of(frames, phases, divisor, added_lines(hz, divisor, highest_hz), scale);
    if (step.share > least_share && step.in_step > least_in_step) return divisor;
  }
  return 1;
}

}  // namespace windway
