// SPDX-License-Identifier: GPL-3.0-or-later
// How near a hold's frequency comes to the least error that noise allows: steady tones in white noise and in noise
// shaped like breath (0.7 to 9 kHz) at 48 kHz, as a table.
// Usage: windway_frequency_bound [trials a cell, 300] [ramp at both ends in ms, 0]
//
// SNR: mean power of the whole tone (all its harmonics) against that of the noise over the whole band, 0 to 24 kHz.
// Bound of the frequency of N samples with harmonic amplitudes A_l in white noise of variance s2 a (real) sample, omega
// in rad/sample: var(omega) >= 24 s2 / (N (N^2 - 1) sum l^2 A_l^2). A. Nehorai and B. Porat, IEEE Trans. ASSP 34 (1986)
// 1124; for a lone sine S. M. Kay, Estimation Theory (1993), example 3.14 (both from memory). Where the noise is
// shaped, s2 of each harmonic is the density at its own place, times the sample rate (the Whittle likelihood's
// information).
//
// The tone is A5 and somewhat about it, so that five harmonics lie in the band that windway works in (harmonics above
// about 7 kHz cannot count); harmonic l has the amplitude 1 / l, and with it as much to tell as each other one.
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <vector>

#include "holds/holds.hpp"
#include "recording/decimate.hpp"
#include "support/find_holds.hpp"
#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr int rate_hz = 48000;
constexpr double silence_s = 0.4;  // before and after, noise alone
constexpr double two_pi = 2.0 * std::numbers::pi;

struct Cell {
  bool breath = false;  ///< noise shaped like breath, else white
  int harmonics = 1;
  double snr_db = 0;
  double duration_s = 0;
  double ramp_s = 0;  ///< at either end, within the duration; not counted as steady
};

struct Errors {
  int found = 0;
  double square_hz2 = 0;
  double sum_hz = 0;
  double span_s = 0;  ///< of windway's steady part, summed
  int in_u95 = 0;

  double rms_hz() const { return std::sqrt(square_hz2 / found); }
};

double amplitude_at(const Cell& cell, double t_s) {
  const double from_edge_s = std::min(t_s, cell.duration_s - t_s);
  if (from_edge_s < 0) return 0.0;
  return from_edge_s >= cell.ramp_s ? 1.0 : 0.5 - 0.5 * std::cos(std::numbers::pi * from_edge_s / cell.ramp_s);
}

double noise_variance(const Cell& cell) {
  double power = 0;
  for (int l = 1; l <= cell.harmonics; ++l) power += 0.5 / (l * l);
  return power * power_from_db(-cell.snr_db);
}

/// Noise through first-order filters, each twice: high pass at 0.7 kHz, low pass at 9 kHz.
class BreathShape {
 public:
  double next(double white) {
    const double low_cut = high_pass(high_pass(white, rumble_[0]), rumble_[1]);
    return low_pass(low_pass(low_cut, hiss_[0], hiss_keep), hiss_[1], hiss_keep);
  }
  /// Power at a frequency against that of the white noise it is made from.
  static double power_at(double hz) {
    const std::complex<double> z = std::polar(1.0, -two_pi * hz / rate_hz);
    const std::complex<double> high = 1.0 - (1.0 - rumble_keep) / (1.0 - rumble_keep * z);
    const std::complex<double> low = (1.0 - hiss_keep) / (1.0 - hiss_keep * z);
    return std::norm(high * high * low * low);
  }
  static double mean_power() {
    constexpr int steps = 24000;
    double sum = 0;
    for (int i = 0; i < steps; ++i) sum += power_at((i + 0.5) * 0.5 * rate_hz / steps);
    return sum / steps;
  }

 private:
  static inline const double rumble_keep = std::exp(-two_pi * 700.0 / rate_hz);
  static inline const double hiss_keep = std::exp(-two_pi * 9000.0 / rate_hz);
  static double low_pass(double x, double& state, double keep) { return state = keep * state + (1.0 - keep) * x; }
  static double high_pass(double x, double& state) { return x - low_pass(x, state, rumble_keep); }
  double rumble_[2] = {}, hiss_[2] = {};
};

/// Sum of l^2 A_l^2 over the noise's density at each harmonic, that of white noise of the same power counted as 1.
double information(const Cell& cell) {
  double sum = 0;
  for (int l = 1; l <= cell.harmonics; ++l) {
    sum += cell.breath ? BreathShape::mean_power() / BreathShape::power_at(l * 880.0) : 1.0;  // l^2 (1 / l)^2
  }
  return sum;
}

double bound_hz(const Cell& cell, double span_s) {
  const double samples = span_s * rate_hz;
  return std::sqrt(24.0 * noise_variance(cell) / (samples * (samples * samples - 1.0) * information(cell))) * rate_hz /
         two_pi;
}

std::vector<float> tone_in_noise(const Cell& cell, double f0_hz, synthesis::Random& random) {
  constexpr double scale = 0.1;
  std::vector<double> phase_rad;
  for (int l = 1; l <= cell.harmonics; ++l) phase_rad.push_back(random.uniform(0.0, two_pi));
  const double start_s = silence_s + random.uniform(0.0, 0.01);  // anywhere between two frames
  BreathShape shape;
  const double sd = std::sqrt(noise_variance(cell) / (cell.breath ? BreathShape::mean_power() : 1.0));
  std::vector<float> samples(static_cast<std::size_t>((2.0 * silence_s + cell.duration_s) * rate_hz));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t_s = static_cast<double>(i) / rate_hz - start_s;
    const double white = random.normal(0.0, sd);
    double value = cell.breath ? shape.next(white) : white;
    if (const double amplitude = amplitude_at(cell, t_s); amplitude > 0) {
      for (int l = 1; l <= cell.harmonics; ++l) {
        value += amplitude / l * std::sin(two_pi * l * f0_hz * t_s + phase_rad[static_cast<std::size_t>(l - 1)]);
      }
    }
    samples[i] = static_cast<float>(scale * value);
  }
  return samples;
}

/// The same way to the working rate as a recording goes.
PitchTrack track_of(const std::vector<float>& samples) {
  const int factor = decimation_factor(rate_hz);
  Decimator decimator(factor);
  std::vector<float> working;
  decimator.process(samples, working);
  decimator.finish(working);
  return track_pitch(working, static_cast<double>(rate_hz) / factor, {});
}

Errors errors_of(const Cell& cell, int trials, std::uint64_t seed) {
  synthesis::Random random(seed);
  Errors errors;
  for (int trial = 0; trial < trials; ++trial) {
    const double f0_hz = random.uniform(865.0, 895.0);
    const auto holds = find_holds(track_of(tone_in_noise(cell, f0_hz, random)), {.min_hold_s = 0.15});
    if (holds.size() != 1) continue;
    const double off_hz = holds[0].frequency_hz - f0_hz;
    ++errors.found;
    errors.square_hz2 += off_hz * off_hz;
    errors.sum_hz += off_hz;
    errors.span_s += holds[0].steady_end_s - holds[0].steady_start_s;
    errors.in_u95 += std::abs(cents_between(f0_hz, holds[0].frequency_hz)) <= holds[0].frequency_u95_cents;
  }
  return errors;
}

void print_row(const Cell& cell, const Errors& errors, int trials) {
  const double true_bound_hz = bound_hz(cell, cell.duration_s - 2.0 * cell.ramp_s);
  const double own_bound_hz = bound_hz(cell, errors.span_s / errors.found);
  const double cents_per_hz = cents_per_neper / 880.0;
  std::printf("| %s | %d | %2.0f | %.2f | %.5f | %.5f | %.2f | %.2f | %+.2f | %.3f | %.3f | %d/%d |\n",
              cell.breath ? "breath" : "white", cell.harmonics, cell.snr_db, cell.duration_s,
              true_bound_hz * cents_per_hz, errors.rms_hz() * cents_per_hz, errors.rms_hz() / true_bound_hz,
              errors.rms_hz() / own_bound_hz, errors.sum_hz / errors.found / errors.rms_hz(),
              errors.span_s / errors.found, static_cast<double>(errors.in_u95) / errors.found, errors.found, trials);
  std::fflush(stdout);
}

int print_table(int trials, double ramp_s) {
  std::printf(
      "| noise | harmonics | SNR dB | tone s | bound cents | RMS cents | RMS/bound | RMS/bound of own part | bias/RMS "
      "| "
      "steady part s | in u95 | holds |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n");
  int missed = 0;
  std::uint64_t seed = 1;
  for (const bool breath : {false, true})
    for (const int harmonics : {1, 3, 5}) {
      for (const double snr_db : {0.0, 10.0, 20.0, 40.0}) {
        for (const double duration_s : {0.25, 0.5, 1.0, 2.0}) {
          const Cell cell{breath, harmonics, snr_db, duration_s + 2.0 * ramp_s, ramp_s};
          const Errors errors = errors_of(cell, trials, seed++);
          missed += trials - errors.found;
          if (errors.found > 0) print_row(cell, errors, trials);
        }
      }
    }
  return missed;
}

}  // namespace
}  // namespace windway

int main(int argc, char** argv) {
  const int trials = argc > 1 ? std::atoi(argv[1]) : 300;
  const double ramp_ms = argc > 2 ? std::atof(argv[2]) : 0.0;
  return windway::print_table(std::max(trials, 1), ramp_ms / 1000.0) == 0 ? 0 : 1;
}
