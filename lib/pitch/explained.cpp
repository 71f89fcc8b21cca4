// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/explained.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "pitch/pitch_track.hpp"

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

/// Is one of the four powers from bin k on over `least`? Most bins are noise, and need no closer look.
bool any_of_four_over(std::span<const float> power, std::size_t k, float least) {
  const bool first = power[k] > least, second = power[k + 1] > least;
  const bool third = power[k + 2] > least, fourth = power[k + 3] > least;
  return (first | second) | (third | fourth);
}

/// The strongest first.
std::vector<Peak> strongest_peaks(std::span<const float> power, const Band& band, double noise_power) {
  std::vector<Peak> peaks;
  const auto least = static_cast<float>(peak_over_noise * noise_power);
  for (std::size_t k = band.from; k < band.to; ++k) {
    while (k + 4 <= band.to && !any_of_four_over(power, k, least)) k += 4;
    if (k == band.to) break;
    if (power[k] > least && power[k] > power[k - 1] && power[k] >= power[k + 1]) peaks.push_back({k, power[k]});
  }
  std::sort(peaks.begin(), peaks.end(), [](const Peak& a, const Peak& b) { return a.power > b.power; });
  if (peaks.size() > peaks_most) peaks.resize(peaks_most);
  const auto is_faint = [&](const Peak& peak) { return peak.power < peak_under_strongest * peaks.front().power; };
  while (!peaks.empty() && is_faint(peaks.back())) peaks.pop_back();
  return peaks;
}

/// No less than explained_power, and quicker.
double explained_at_most(std::span<const float> power, const Band& band, double f0_hz) {
  double sum = 0;
  for (int h = 1; h <= harmonics_explained && h * f0_hz < static_cast<double>(band.to - 1) * band.bin_hz; ++h) {
    sum += power[strongest_bin_near(power, band, h * f0_hz)];
  }
  return sum;
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

std::size_t strongest_bin_near(std::span<const float> power, const Band& band, double hz) {
  const std::size_t bin = nearest_bin(hz / band.bin_hz);
  std::size_t best = bin;
  if (power[bin - 1] > power[best]) best = bin - 1;
  if (bin + 1 < power.size() && power[bin + 1] > power[best]) best = bin + 1;
  return best;
}

double explained_power(std::span<const float> power, const Band& band, double f0_hz, double noise_power) {
  double sum = 0;
  for (int h = 1; h <= harmonics_explained && h * f0_hz < static_cast<double>(band.to - 1) * band.bin_hz; ++h) {
    const std::size_t bin = strongest_bin_near(power, band, h * f0_hz);
    if (power[bin] <= 2.0 * noise_power) continue;
    const double beside_bins = peak_hz(power, bin, band.bin_hz) / band.bin_hz - h * f0_hz / band.bin_hz;
    sum += std::max(0.0, 1.0 - beside_bins * beside_bins) * (power[bin] - 2.0 * noise_power);
  }
  return sum;
}

std::optional<double> fundamental_hz(std::span<const float> power, const Band& band, double noise_power) {
  std::vector<Candidate> candidates;
  std::vector<Candidate> undivided;
  double best = 0;
  for (const Peak& peak : strongest_peaks(power, band, noise_power)) {
    const double whole_hz = peak_hz(power, peak.bin, band.bin_hz);
    for (int divisor = 1; divisor <= 4; ++divisor) {
      const double hz = whole_hz / divisor;
      if (hz < voice_min_hz) break;
      const double at_most = explained_at_most(power, band, hz);
      if (divisor == 1) undivided.push_back({hz, at_most});
      if (at_most < explained_enough * best) continue;
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
  double sum = 0;
  double weights = 0;
  for (int h = 1; h <= harmonics_tracked && h * f0_hz < static_cast<double>(band.to - 1) * band.bin_hz; ++h) {
    const std::size_t bin = strongest_bin_near(power, band, h * f0_hz);
    const bool peak = power[bin] > power[bin - 1] && power[bin] >= power[bin + 1];
    if (!peak || power[bin] < 2.0 * peak_over_noise * noise_power) continue;
    const double hz = peak_hz(power, bin, band.bin_hz);
    if (std::abs(hz - h * f0_hz) > harmonic_within_bins * band.bin_hz) continue;
    const double weight = h * h * static_cast<double>(power[bin]);
    sum += weight * hz / h;
    weights += weight;
  }
  return weights > 0 ? sum / weights : f0_hz;
}

}  // namespace windway
