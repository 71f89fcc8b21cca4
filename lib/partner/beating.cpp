// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/beating.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/spectrum.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double furthest_hz = 12.0;
constexpr double softest_db = -10.0;
constexpr double steps_a_lobe = 8.0;
constexpr double least_beats = 2.5;

/// Modulus of the spectrum of the amplitudes at `hz`, through a Hann window over them all.
double modulus_at(const std::vector<std::complex<double>>& amplitudes, double hz, double hop_s) {
  std::complex<double> sum = 0;
  for (std::size_t i = 0; i < amplitudes.size(); ++i) {
    const double place = (static_cast<double>(i) + 0.5) / static_cast<double>(amplitudes.size());
    const double turn = full_turn_rad * hz * hop_s * static_cast<double>(i);
    sum += (1.0 - std::cos(full_turn_rad * place)) * amplitudes[i] * std::polar(1.0, -turn);
  }
  return std::abs(sum);
}

/// Top of the parabola through three moduli, in steps from the middle one.
double top_offset(double below, double at, double above) {
  const double bend = below - 2.0 * at + above;
  return bend < 0 ? std::clamp(0.5 * (below - above) / bend, -0.5, 0.5) : 0.0;
}

struct Top {
  double hz = 0;
  double modulus = 0;
};

std::vector<Top> tops_of(const std::vector<std::complex<double>>& amplitudes, double hop_s, double window_s) {
  const double step_hz = 1.0 / (steps_a_lobe * static_cast<double>(amplitudes.size()) * hop_s);
  const auto steps = static_cast<int>(furthest_hz / step_hz);
  std::vector<double> moduli;
  for (int i = -steps; i <= steps; ++i) {
    const double hz = i * step_hz;
    moduli.push_back(modulus_at(amplitudes, hz, hop_s) / hann_lobe(hz * window_s));
  }
  std::vector<Top> tops;
  for (std::size_t i = 1; i + 1 < moduli.size(); ++i) {
    if (moduli[i] < moduli[i - 1] || moduli[i] <= moduli[i + 1]) continue;
    const double place = static_cast<double>(i) - steps + top_offset(moduli[i - 1], moduli[i], moduli[i + 1]);
    tops.push_back({place * step_hz, moduli[i]});
  }
  return tops;
}

}  // namespace

std::optional<BeatingLines> beating_lines(const std::vector<std::complex<double>>& amplitudes, double hop_s,
                                          double window_s) {
  std::vector<Top> tops = tops_of(amplitudes, hop_s, window_s);
  if (tops.size() < 2) return std::nullopt;
  const double loudest = std::ranges::max_element(tops, {}, &Top::modulus)->modulus;
  std::erase_if(tops, [&](const Top& top) { return top.modulus < loudest * amplitude_from_db(softest_db); });
  const double apart_hz = tops.back().hz - tops.front().hz;
  const double length_s = static_cast<double>(amplitudes.size()) * hop_s;
  if (tops.size() < 2 || tops.size() > 3 || apart_hz * length_s < least_beats) return std::nullopt;
  return BeatingLines{0.5 * (tops.front().hz + tops.back().hz), apart_hz, tops.size()};
}

}  // namespace windway
