// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/struck_strings.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>

#include "support/noise.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;
constexpr double release_s = 0.025;  // time constant of damper or key
constexpr int most_harmonics = 16;

/// Adds a sine whose amplitude `at(seconds since the start)` gives: asked for every 16 samples, straight lines between.
void add_sine(std::vector<double>& out, double rate_hz, double start_s, double hz, double cycles,
              const std::function<double(double)>& amplitude_at) {
  constexpr std::size_t step = 16;
  if (hz >= 0.48 * rate_hz) return;
  const auto first = static_cast<std::size_t>(start_s * rate_hz);
  const auto since_s = [&](std::size_t i) { return static_cast<double>(i) / rate_hz - start_s; };
  const std::complex<double> turn = std::polar(1.0, full_turn_rad * hz / rate_hz);
  std::complex<double> phase = std::polar(1.0, full_turn_rad * (cycles + hz * since_s(first)));
  double before = amplitude_at(since_s(first));
  for (std::size_t from = first; from < out.size(); from += step) {
    const double after = amplitude_at(since_s(from + step));
    for (std::size_t i = from; i < std::min(from + step, out.size()); ++i) {
      const double share = static_cast<double>(i - from) / static_cast<double>(step);
      out[i] += (before + share * (after - before)) * phase.imag();
      phase *= turn;
    }
    if (since_s(from) > 0.1 && after < 1e-8) return;
    before = after;
  }
}

double rise(double t_s, double attack_s) { return -std::expm1(-std::max(t_s, 0.0) / attack_s); }
double release(double t_s, double duration_s) {
  return t_s < duration_s ? 1.0 : std::exp((duration_s - t_s) / release_s);
}

void add_strings(std::vector<double>& out, double rate_hz, const StruckNote& note, Random& random) {
  const std::vector<double> strings = note.strings_cents.empty() ? std::vector{0.0} : note.strings_cents;
  const double fall_db = random.uniform(3.0, 8.0);
  for (int number = 1; number <= most_harmonics; ++number) {
    const double n = number;
    const double partial_hz =
        hz_at_cents(n * note.first_hz, number > 1 ? random.normal(0.0, note.partial_scatter_cents) : 0.0) *
        std::sqrt((1.0 + note.inharmonicity * n * n) / (1.0 + note.inharmonicity));
    const double level =
        note.amplitude * amplitude_from_db((1.0 - n) * fall_db + random.normal(0.0, number > 1 ? 3.0 : 0.0));
    for (const double cents : strings) {
      const double decay_s = note.decay_s / (1.0 + 0.25 * (n - 1.0)) * std::exp(random.normal(0.0, 0.2));
      const double share = 1.0 / static_cast<double>(strings.size()) * std::exp(random.normal(0.0, 0.15));
      add_sine(out, rate_hz, note.start_s, hz_at_cents(partial_hz, cents), random.uniform(0.0, 1.0), [&](double t_s) {
        return level * share * rise(t_s, 0.002) * std::exp(-t_s / decay_s) * release(t_s, note.duration_s);
      });
    }
  }
}

/// The hammer's knock: noise that is gone in some hundredths of a second.
void add_knock(std::vector<double>& out, double rate_hz, const StruckNote& note, Random& random) {
  constexpr double knock_s = 0.015;
  for (auto i = static_cast<std::size_t>(note.start_s * rate_hz); i < out.size(); ++i) {
    const double t_s = static_cast<double>(i) / rate_hz - note.start_s;
    if (t_s > 8.0 * knock_s) return;
    out[i] += 0.1 * note.amplitude * std::exp(-t_s / knock_s) * random.normal();
  }
}

std::vector<float> in_noise(const std::vector<double>& samples, double noise_db, Random& random) {
  const double sd = amplitude_from_db(noise_db);
  std::vector<float> out;
  out.reserve(samples.size());
  for (const double sample : samples) out.push_back(static_cast<float>(sample + random.normal(0.0, sd)));
  return out;
}

std::vector<double> still(double duration_s, double rate_hz) {
  return std::vector<double>(static_cast<std::size_t>(duration_s * rate_hz), 0.0);
}

}  // namespace

std::vector<float> struck_strings(const std::vector<StruckNote>& notes, double duration_s, double rate_hz,
                                  double noise_db, Random& random) {
  std::vector<double> out = still(duration_s, rate_hz);
  for (const StruckNote& note : notes) {
    add_strings(out, rate_hz, note, random);
    add_knock(out, rate_hz, note, random);
  }
  return in_noise(out, noise_db, random);
}

std::vector<float> held_reeds(const std::vector<HeldNote>& notes, double duration_s, double rate_hz, double noise_db,
                              Random& random) {
  std::vector<double> out = still(duration_s, rate_hz);
  for (const HeldNote& note : notes) {
    for (const double pitch_hz : note.ranks_hz) {
      for (int n = 1; n <= most_harmonics; ++n)
        add_sine(out, rate_hz, note.start_s, n * pitch_hz, random.uniform(0.0, 1.0), [&](double t_s) {
          return note.amplitude * amplitude_from_db((1.0 - n) * note.fall_db) * rise(t_s, 0.03) *
                 release(t_s, note.duration_s);
        });
    }
  }
  return in_noise(out, noise_db, random);
}

}  // namespace windway::synthesis
