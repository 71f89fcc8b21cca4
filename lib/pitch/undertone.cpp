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
constexpr double least_in_step = 0.7;         // fundamentals in a room or in loud breath noise, all but one in 10,000
// Noise of the bore rings at the half and three halves of a pitch. With nothing in step above, more is asked: over a
// short note its phase may stand still by chance.
constexpr double least_upper_share = 0.03;  // of the lowest line
constexpr double plainly_in_step = 0.9;
constexpr double most_wandering_odd = 0.3;
constexpr double most_wandering = 0.12;   // noise of the bore; a fundamental in a church may keep no more than 0.2
constexpr std::size_t least_frames = 12;  // 0.12 s

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

/// What is the same whichever divisor is asked about: those frames that tell. Not those of an attack or a release tell,
/// where echoes of another pitch are as loud as the tone.
struct Doubted {
  std::span<const HeardFrame> frames;
  std::vector<std::size_t> tells;  ///< indices of frames
  double hz = 0;
  double tone_power = 0;  ///< summed over the frames that tell, like the noise of one line's squared amplitude
  double noise = 0;
};

/// Absent where too few frames tell.
std::optional<Doubted> doubted(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  constexpr double near_pitch = 0.009;  // 15 cents
  constexpr double least_power = 0.16;  // 8 dB under the loudest frame
  if (frames.size() < least_frames) return std::nullopt;
  std::vector<double> all_hz;
  std::vector<double> power;
  for (const HeardFrame& frame : frames) {
    all_hz.push_back(frame.hz);
    power.push_back(tone_power(*frame.spectrum, frame.hz, scale.bin_hz));
  }
  const auto middle = all_hz.begin() + static_cast<long>(all_hz.size() / 2);
  std::nth_element(all_hz.begin(), middle, all_hz.end());
  const double loudest = *std::max_element(power.begin(), power.end());
  Doubted pitch{frames, {}, *middle, 0.0, 0.0};
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (power[i] <= least_power * loudest || std::abs(frames[i].hz / *middle - 1.0) >= near_pitch) continue;
    pitch.tells.push_back(i);
    pitch.tone_power += power[i];
    pitch.noise += 2.0 * frames[i].noise_power;
  }
  return pitch.tells.size() < least_frames ? std::nullopt : std::optional(pitch);
}

/// The lines that the n-th part of the pitch would add to it.
struct AddedLines {
  int divisor = 2;
  std::vector<int> numbers;  ///< as multiples of that part
  double power = 0;          ///< of all, less the noise's
  double odd_power = 0;      ///< likewise of the odd ones: those that an octave above that part would not add
  double lowest_power = 0;   ///< of the lowest, the fundamental

  double order(int number) const { return static_cast<double>(number) / divisor; }
};

AddedLines lines_added(const Doubted& pitch, int divisor, const SpectrumScale& scale) {
  const double highest_hz = top_hz(*pitch.frames.front().spectrum, scale.bin_hz) - scale.bin_hz * 4.0;
  AddedLines lines;
  lines.divisor = divisor;
  for (int k = 1; k <= highest_line && k * pitch.hz / divisor < highest_hz; ++k) {
    if (std::gcd(k, divisor) == 1) lines.numbers.push_back(k);
  }
  for (const int number : lines.numbers) {
    double power = 0;
    for (const std::size_t i : pitch.tells) {
      power += power_at(*pitch.frames[i].spectrum, lines.order(number) * pitch.frames[i].hz, scale.bin_hz);
    }
    lines.power += power - pitch.noise;
    if (number % 2 == 1) lines.odd_power += power - pitch.noise;
    if (number == 1) lines.lowest_power = power;
  }
  return lines;
}

/// What of the added lines keeps step with the tone.
struct InStep {
  double share = 0;      ///< of their power, 0 where they have none over the noise's
  double odd_share = 0;  ///< likewise of the odd ones
  /// Of the lowest line: what keeps step in the strongest above the third; 1 where none is to tell.
  double upper_share = 1;

  bool is_fundamental() const { return share > (upper_share > least_upper_share ? least_in_step : plainly_in_step); }
};

InStep in_step(const Doubted& pitch, const AddedLines& lines, const SpectrumScale& scale) {
  if (lines.power <= 0) return {};
  const std::vector<double> phases = phases_rad(pitch.frames, scale);
  double kept = 0, odd = 0, upper = 0;
  for (const int number : lines.numbers) {
    const double order = lines.order(number);
    std::complex<double> sum = 0;
    for (const std::size_t i : pitch.tells) {
      const HeardFrame& frame = pitch.frames[i];
      sum += line_at(*frame.spectrum, order * frame.hz, scale.bin_hz) * std::polar(1.0, -phases[i] * order);
    }
    const double here = (std::norm(sum) - pitch.noise) / static_cast<double>(pitch.tells.size());
    kept += here;
    if (number % 2 == 1) odd += here;
    if (number > 3) upper = std::max(upper, here);
  }
  // Else all lines are below, or noise of the bore has none: it rings at the half of a pitch, the pitch in doubt or one
  // of which that is a harmonic.
  const bool told = lines.divisor % 2 == 0 && lines.numbers.back() > 3;
  return {kept / lines.power, lines.odd_power > 0 ? odd / lines.odd_power : 0.0,
          told ? upper / lines.lowest_power : 1.0};
}

}  // namespace

std::optional<double> harmonic_ratio(double hz, double reference_hz) {
  constexpr double within = 0.015;  // a quarter of a semitone
  for (int q = 1; q <= 5; ++q) {
    const double multiple = q * hz / reference_hz;
    const double p = std::floor(multiple + 0.5);
    if (p >= 1.0 && p <= 5.0 && std::abs(multiple - p) < within * p) return p / q;
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

double undertone(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  const auto pitch = doubted(frames, scale);
  for (int divisor = 5; pitch && divisor >= 2; --divisor) {
    if (pitch->hz / divisor < lowest_hz) continue;
    const AddedLines lines = lines_added(*pitch, divisor, scale);
    const bool strong_enough =
        lines.power > least_share * pitch->tone_power && lines.lowest_power > least_lowest_share * pitch->tone_power;
    if (!strong_enough) continue;
    const InStep step = in_step(*pitch, lines, scale);
    if (!step.is_fundamental()) continue;
    const bool octave_only = divisor % 2 == 1 && step.odd_share < most_wandering_odd;
    return (octave_only ? 2.0 : 1.0) / divisor;
  }
  return 1.0;
}

bool half_wanders(std::span<const HeardFrame> frames, const SpectrumScale& scale) {
  const auto pitch = doubted(frames, scale);
  return pitch && in_step(*pitch, lines_added(*pitch, 2, scale), scale).share < most_wandering;
}

}  // namespace windway
