// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/explained.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <vector>

#include "pitch/pitch_track.hpp"
#include "units/four.hpp"

namespace windway {

namespace {

constexpr int harmonics_explained = 8;
constexpr std::size_t peaks_most = 8;
constexpr double peak_over_noise = 6.0;  // power; noise alone passes it in one bin of 60
constexpr double peak_under_strongest = 3e-4;
constexpr double explained_enough = 0.86;     // of what the best fundamental explains: then the higher one is the pitch
constexpr double part_adds = 0.03;            // a part of a peak's pitch must explain this much more than the peak
constexpr double harmonic_within_bins = 0.5;  // a peak farther from its place is another sound's

struct Peak {
  std::size_t bin = 0;
  float power = 0;
};

double peak_hz(std::span<const float> power, std::size_t bin, double bin_hz) {
  return (static_cast<double>(bin) + hann_peak_offset_bins(power[bin - 1], power[bin], power[bin + 1])) * bin_hz;
}

/// The strongest bin near each harmonic of a fundamental within the band, and where a lone tone stands that shows so.
struct Lines {
  using OfEach = std::array<float, harmonics_explained>;  // 0 beyond the last of `count`
  OfEach power, below, above;
  OfEach bin_beside;   ///< of the harmonic's place, in bins
  OfEach tone_beside;  ///< likewise
  std::size_t count = 0;

  bool is_peak(std::size_t i) const { return power[i] > below[i] && power[i] >= above[i]; }
};

/// All at once, for the square root and the divisions: as hann_peak_offset_bins.
void place_tones(Lines& lines) {
  constexpr float least_power = 1e-30f;
  for (std::size_t i = 0; i < lines.power.size(); ++i) {
    const bool up = lines.above[i] >= lines.below[i];
    const float beside = up ? lines.above[i] : lines.below[i];
    const float ratio = std::sqrt(beside / (lines.power[i] + least_power));
    const float offset = std::min(std::max((2.0f * ratio - 1.0f) / (ratio + 1.0f), 0.0f), 0.5f);
    lines.tone_beside[i] = lines.bin_beside[i] + (up ? offset : -offset);
  }
}

Lines lines_near(std::span<const float> power, const Band& band, double f0_hz, int most) {
  const double f0_bins = f0_hz / band.bin_hz;
  const auto end_bins = static_cast<double>(band.to - 1);
  Lines lines;  // NOLINT(cppcoreguidelines-pro-type-member-init): every harmonic's place is filled below
  for (int h = 1; h <= most && h * f0_bins < end_bins; ++h) {
    const std::size_t i = lines.count++;
    const auto bin = static_cast<std::ptrdiff_t>(strongest_bin_near(power, h * f0_bins));
    const float* const at = power.data() + bin;
    lines.power[i] = at[0];
    lines.below[i] = at[-1];
    lines.above[i] = at[1];
    lines.bin_beside[i] = static_cast<float>(static_cast<double>(bin) - h * f0_bins);
  }
  for (std::size_t i = lines.count; i < lines.power.size(); ++i) {
    lines.power[i] = lines.below[i] = lines.above[i] = lines.bin_beside[i] = 0.0f;
  }
  place_tones(lines);
  return lines;
}

bool is_peak(const float* power) { return power[0] > power[-1] && power[0] >= power[1]; }

/// Is one of eight neighbouring bins a peak over `least`? Most bins are none, and need no closer look.
bool peak_among_eight(const float* power, float least) {
  const auto peaks_among_four = [least](const float* p) {
    const Four here = four_at(p);
    return (here > least) & (here > four_at(p - 1)) & (here >= four_at(p + 1));
  };
  return any(peaks_among_four(power) | peaks_among_four(power + 4));
}

/// The strongest first.
std::vector<Peak> strongest_peaks(std::span<const float> power, const Band& band, double noise_power) {
  std::vector<Peak> peaks;
  peaks.reserve(2 * peaks_most);
  const auto least = static_cast<float>(peak_over_noise * noise_power);
  for (std::size_t k = band.from; k < band.to; ++k) {
    while (k + 8 <= band.to && !peak_among_eight(&power[k], least)) k += 8;
    if (k == band.to) break;
    if (power[k] > least && is_peak(&power[k])) peaks.push_back({k, power[k]});
  }
  std::sort(peaks.begin(), peaks.end(), [](const Peak& a, const Peak& b) { return a.power > b.power; });
  if (peaks.size() > peaks_most) peaks.resize(peaks_most);
  const auto is_faint = [&](const Peak& peak) { return peak.power < peak_under_strongest * peaks.front().power; };
  while (!peaks.empty() && is_faint(peaks.back())) peaks.pop_back();
  return peaks;
}

/// What a harmonic near each bin of the band can explain at most: the highest power of the bin and its two neighbours,
/// above the noise's.
std::vector<float> most_explained(std::span<const float> power, const Band& band, double noise_power) {
  std::vector<float> most(band.to, 0.0f);
  const auto noise = static_cast<float>(2.0 * noise_power);
  const float* const p = power.data();
  for (std::size_t k = band.from - 1; k < band.to; ++k) {
    const float beside = p[k - 1] > p[k + 1] ? p[k - 1] : p[k + 1];
    const float highest = beside > p[k] ? beside : p[k];
    most[k] = highest > noise ? highest - noise : 0.0f;
  }
  return most;
}

/// No less than explained_power, and quicker. Bins are told for all harmonics at once.
double explained_at_most(const std::vector<float>& most, double f0_bins) {
  std::array<int, harmonics_explained> bins{};
  for (int i = 0; i < harmonics_explained; ++i) {
    bins[static_cast<std::size_t>(i)] =
        static_cast<int>((i + 1) * f0_bins + 0.5);  // NOLINT(bugprone-incorrect-roundings)
  }
  float sum = 0;
  for (const int bin : bins) {
    if (static_cast<std::size_t>(bin) >= most.size()) break;
    sum += most[static_cast<std::size_t>(bin)];
  }
  return sum;
}

double explained_by(const Lines& lines, double noise_power) {
  const auto noise = static_cast<float>(2.0 * noise_power);
  std::array<float, harmonics_explained> explained{};
  for (std::size_t i = 0; i < explained.size(); ++i) {
    const float near = std::max(1.0f - lines.tone_beside[i] * lines.tone_beside[i], 0.0f);
    explained[i] = near * std::max(lines.power[i] - noise, 0.0f);
  }
  return std::accumulate(explained.begin(), explained.end(), 0.0);
}

/// How far in bins the fundamental stands above the place that the lines were looked for at; 0 where none tells.
double fundamental_beside(const Lines& lines, double noise_power) {
  double sum = 0;
  double weights = 0;
  for (std::size_t i = 0; i < std::min<std::size_t>(lines.count, harmonics_tracked); ++i) {
    const auto h = static_cast<double>(i + 1);
    if (!lines.is_peak(i) || lines.power[i] < 2.0 * peak_over_noise * noise_power) continue;
    if (std::abs(lines.tone_beside[i]) > harmonic_within_bins) continue;
    sum += h * static_cast<double>(lines.power[i]) * lines.tone_beside[i];
    weights += h * h * static_cast<double>(lines.power[i]);
  }
  return weights > 0 ? sum / weights : 0.0;
}

struct Candidate {
  double hz = 0;
  double explained = 0;
};

/// Does a pitch explain more than each of the peaks alone that it has for a harmonic? Else it is but a part of that
/// peak's pitch.
bool adds_to_all(const Candidate& pitch, const std::vector<Candidate>& peaks) {
  return std::ranges::none_of(peaks, [&](const Candidate& peak) {
    const double ratio = peak.hz / pitch.hz;
    const double harmonic = std::floor(ratio + 0.5);
    const bool is_harmonic = harmonic > 1.0 && std::abs(ratio - harmonic) < (same_pitch - 1.0) * harmonic;
    return is_harmonic && pitch.explained < (1.0 + part_adds) * peak.explained;
  });
}

}  // namespace

double explained_power(std::span<const float> power, const Band& band, double f0_hz, double noise_power) {
  return explained_by(lines_near(power, band, f0_hz, harmonics_explained), noise_power);
}

std::optional<double> fundamental_hz(std::span<const float> power, const Band& band, double noise_power) {
  constexpr int most_divisor = 4;
  const std::vector<Peak> peaks = strongest_peaks(power, band, noise_power);
  if (peaks.empty()) return std::nullopt;
  std::vector<Candidate> candidates;
  candidates.reserve(most_divisor * peaks_most);
  std::vector<Candidate> undivided;
  undivided.reserve(peaks_most);
  double best = 0;
  const std::vector<float> most = most_explained(power, band, noise_power);
  for (const Peak& peak : peaks) {
    const double whole_hz = peak_hz(power, peak.bin, band.bin_hz);
    for (int divisor = 1; divisor <= most_divisor; ++divisor) {
      const double hz = whole_hz / divisor;
      if (hz < voice_min_hz) break;
      const double at_most = explained_at_most(most, hz / band.bin_hz);
      if (divisor == 1) undivided.push_back({hz, at_most});
      const bool adds = divisor == 1 || at_most >= (1.0 + part_adds) * undivided.back().explained;
      if (!adds || at_most < explained_enough * best) continue;
      candidates.push_back({hz, explained_power(power, band, hz, noise_power)});
      if (divisor == 1) undivided.back() = candidates.back();
      best = std::max(best, candidates.back().explained);
    }
  }
  std::optional<double> found;
  for (const Candidate& c : candidates) {
    const bool higher = c.explained >= explained_enough * best && (!found || c.hz > same_pitch * *found);
    if (higher && adds_to_all(c, undivided)) found = c.hz;
  }
  return found;
}

double refined_hz(std::span<const float> power, const Band& band, double f0_hz, double noise_power) {
  return f0_hz + band.bin_hz * fundamental_beside(lines_near(power, band, f0_hz, harmonics_tracked), noise_power);
}

HeardOn heard_on(std::span<const float> power, const Band& band, double f0_hz, double noise_power) {
  Lines lines = lines_near(power, band, f0_hz, harmonics_explained);
  const double beside_bins = fundamental_beside(lines, noise_power);
  for (std::size_t i = 0; i < lines.tone_beside.size(); ++i) {
    lines.tone_beside[i] -= static_cast<float>(static_cast<double>(i + 1) * beside_bins);
  }
  return {f0_hz + band.bin_hz * beside_bins, explained_by(lines, noise_power), lines.power[0]};
}

}  // namespace windway
