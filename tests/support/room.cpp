// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/room.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "support/noise.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

/// Late sound of a room: eight delay lines that feed each other through an orthogonal matrix.
/// J.-M. Jot and A. Chaigne, AES 90th Convention (1991), preprint 3030 (from memory).
class Reverberation {
 public:
  Reverberation(double reverb_s, double rate_hz) {
    constexpr std::array<double, 8> delays_s = {0.0227, 0.0281, 0.0311, 0.0353, 0.0397, 0.0433, 0.0479, 0.0523};
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      lines_[i].assign(static_cast<std::size_t>(delays_s[i] * rate_hz), 0.0);
      gains_[i] = amplitude_from_db(-60.0 * delays_s[i] / reverb_s);
    }
  }

  double operator()(double x) {
    double out = 0.0, sum = 0.0;
    std::array<double, 8> tap{};
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      tap[i] = gains_[i] * lines_[i][at_[i]];
      sum += tap[i];
      out += i % 2 == 0 ? tap[i] : -tap[i];
    }
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      lines_[i][at_[i]] = x + tap[i] - 0.25 * sum;  // Householder reflection, orthogonal for eight lines
      at_[i] = (at_[i] + 1) % lines_[i].size();
    }
    return out;
  }

 private:
  std::array<std::vector<double>, 8> lines_;
  std::array<double, 8> gains_{};
  std::array<std::size_t, 8> at_{};
};

double response_energy(double reverb_s, double rate_hz) {
  Reverberation room(reverb_s, rate_hz);
  double energy = 0.0;
  for (std::size_t i = 0; i < static_cast<std::size_t>(reverb_s * rate_hz); ++i) {
    const double y = room(i == 0 ? 1.0 : 0.0);
    energy += y * y;
  }
  return energy;
}

/// Walls a metre or some from the microphone: 2 to 40 ms later, 0.6 to 0.95 of the sound comes back, less by its path.
void add_early_echoes(const std::vector<double>& direct, std::vector<double>& samples, int count, double rate_hz,
                      Random& random) {
  constexpr double sound_m_s = 343.0;
  for (int echo = 0; echo < count; ++echo) {
    const double later_s = random.uniform(0.002, 0.04);
    const double gain = random.uniform(0.6, 0.95) / (1.0 + sound_m_s * later_s);
    const auto later = static_cast<std::size_t>(later_s * rate_hz);
    for (std::size_t i = later; i < samples.size(); ++i) samples[i] += gain * direct[i - later];
  }
}

void add_reverberation(std::vector<double>& samples, const RecordingChain& chain, double rate_hz) {
  const double gain = amplitude_from_db(chain.reverb_db) / std::sqrt(response_energy(chain.reverb_s, rate_hz));
  Reverberation room(chain.reverb_s, rate_hz);
  for (double& x : samples) x += gain * room(x);
}

void set_peak(std::vector<double>& samples, double peak) {
  double now = 1e-12;
  for (const double x : samples) now = std::max(now, std::abs(x));
  for (double& x : samples) x *= peak / now;
}

/// An automatic gain: quick to turn down, slow to turn up, at most 26 dB.
void level_out(std::vector<double>& samples, double peak, double rate_hz) {
  const double fast = 1.0 - std::exp(-1.0 / (0.005 * rate_hz));
  const double slow = 1.0 - std::exp(-1.0 / (0.120 * rate_hz));
  double envelope = peak;
  for (double& x : samples) {
    const double now = std::abs(x);
    envelope += (now - envelope) * (now > envelope ? fast : slow);
    x *= 0.5 * peak / std::max(envelope, 0.05 * peak);
  }
}

void add_hum(std::vector<double>& samples, double hum_db, double rate_hz) {
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double turn_rad = 2.0 * std::numbers::pi * 50.0 * static_cast<double>(i) / rate_hz;
    for (const int k : {1, 3, 5, 7}) samples[i] += amplitude_from_db(hum_db) / k * std::sin(k * turn_rad);
  }
}

/// Gusts: a rumble that comes and goes.
void add_blasts(std::vector<double>& samples, double size, double rate_hz, Random& random) {
  const auto rumble = slow_wander(samples.size(), rate_hz, 0.01, size, random);
  const auto gust = slow_wander(samples.size(), rate_hz, 0.4, 1.0, random);
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] += rumble[i] * std::clamp(gust[i], 0.0, 3.0);
}

}  // namespace

std::vector<double> through(const RecordingChain& chain, std::vector<double> samples, double rate_hz, Random& random) {
  const std::vector<double> direct = chain.early_echoes > 0 ? samples : std::vector<double>{};
  if (chain.reverb_s > 0.0) add_reverberation(samples, chain, rate_hz);
  if (chain.early_echoes > 0) add_early_echoes(direct, samples, chain.early_echoes, rate_hz, random);
  set_peak(samples, chain.peak);
  if (chain.levelled) level_out(samples, chain.peak, rate_hz);
  if (chain.breath_blasts > 0.0) add_blasts(samples, chain.breath_blasts, rate_hz, random);
  if (chain.clip_at) {
    for (double& x : samples) x = std::clamp(x, -*chain.clip_at, *chain.clip_at);
  }
  if (chain.hum_db) add_hum(samples, *chain.hum_db, rate_hz);
  for (double& x : samples) x += chain.dc + random.normal(0.0, amplitude_from_db(chain.floor_db));
  return samples;
}

}  // namespace windway::synthesis
