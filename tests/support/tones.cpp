// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/tones.hpp"

#include <cmath>
#include <numbers>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

std::size_t sample_count(const ToneSpec& spec) {
  return static_cast<std::size_t>(std::lround(spec.duration_s * spec.rate_hz));
}

double harmonics_at(const ToneSpec& spec, double cycles) {
  double sum = 0.0;
  for (std::size_t k = 1; k <= spec.harmonic_amplitudes.size(); ++k) {
    const auto order = static_cast<double>(k);
    if (order * spec.f0_hz >= 0.5 * spec.rate_hz) break;
    sum += spec.harmonic_amplitudes[k - 1] * std::sin(full_turn_rad * order * cycles);
  }
  return sum;
}

/// The phase is the running sum of the frequency at the middle of each step, `hz_at(seconds)`.
template <typename HzAt>
std::vector<float> tone_along(const ToneSpec& spec, HzAt hz_at) {
  std::vector<float> out(sample_count(spec));
  double cycles = spec.start_cycles;
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i] = static_cast<float>(harmonics_at(spec, cycles));
    cycles += hz_at((static_cast<double>(i) + 0.5) / spec.rate_hz) / spec.rate_hz;
    cycles -= std::floor(cycles);
  }
  return out;
}

}  // namespace

std::vector<float> steady_tone(const ToneSpec& spec) {
  return tone_along(spec, [&](double) { return spec.f0_hz; });
}

std::vector<float> glide_tone(const ToneSpec& spec, double end_cents) {
  return tone_along(spec, [&](double t_s) { return hz_at_cents(spec.f0_hz, end_cents * t_s / spec.duration_s); });
}

std::vector<float> vibrato_tone(const ToneSpec& spec, double vibrato_hz, double depth_cents) {
  return tone_along(spec, [&](double t_s) {
    return hz_at_cents(spec.f0_hz, depth_cents * std::sin(full_turn_rad * vibrato_hz * t_s));
  });
}

std::vector<float> silence(double rate_hz, double duration_s) {
  return std::vector<float>(static_cast<std::size_t>(std::lround(duration_s * rate_hz)), 0.0F);
}

void add_white_noise(std::vector<float>& samples, double snr_db, Random& random) {
  if (samples.empty()) return;
  double power = 0.0;
  for (const float x : samples) power += static_cast<double>(x) * x;
  const double sd = std::sqrt(power / static_cast<double>(samples.size()) * power_from_db(-snr_db));
  for (float& x : samples) x += static_cast<float>(random.normal(0.0, sd));
}

std::vector<float> joined(const std::vector<std::vector<float>>& parts) {
  std::vector<float> out;
  for (const auto& part : parts) out.insert(out.end(), part.begin(), part.end());
  return out;
}

std::vector<float> to_float(const std::vector<double>& samples) { return {samples.begin(), samples.end()}; }

}  // namespace windway::synthesis
