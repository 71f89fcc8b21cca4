// SPDX-License-Identifier: GPL-3.0-or-later
// Checks against the Cramer-Rao bound for the frequency of a steady tone of unknown amplitudes and phases in white
// noise. N samples, harmonic amplitudes A_l, noise variance s2 per (real) sample, omega in rad/sample:
//     var(omega) >= 24 s2 / (N (N^2 - 1) sum l^2 A_l^2)
// A. Nehorai and B. Porat, IEEE Trans. ASSP 34 (1986) 1124; for a single sine S. M. Kay, Fundamentals of Statistical
// Signal Processing: Estimation Theory (1993), example 3.14 (both from memory).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <ostream>

#include "holds/mean_frequency.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double f0_hz = 587.3295;
constexpr int trials = 100;

/// Smallest standard deviation, in Hz, that any unbiased estimate of f0 from `samples` samples can have. `snr_db`: the
/// mean power of the whole tone against that of the noise over the whole band.
double bound_sd_hz(double samples, const std::vector<double>& amplitudes, double snr_db) {
  double power = 0.0;
  double information = 0.0;
  for (std::size_t h = 0; h < amplitudes.size(); ++h) {
    const double square = amplitudes[h] * amplitudes[h];
    power += 0.5 * square;
    information += static_cast<double>((h + 1) * (h + 1)) * square;
  }
  const double variance = power * power_from_db(-snr_db);
  const double omega_sd = std::sqrt(24.0 * variance / (samples * (samples * samples - 1.0) * information));
  return omega_sd * tone_rate_hz / (2.0 * std::numbers::pi);
}

// 1 s of 587.33 Hz at 44.1 kHz and 20 dB: 2.625e-4 Hz, with harmonics of 1/2 and 1/4 1.640e-4 Hz where the noise is
// 20 dB under the fundamental alone.
TEST(CramerRaoBound, IsThatOfTheWorkedExamples) {
  const double at_44100 = 44100.0 / tone_rate_hz;
  EXPECT_NEAR(at_44100 * bound_sd_hz(44100.0, {1.0}, 20.0), 2.625e-4, 1e-7);
  const double whole_over_fundamental_db = db_from_power(1.0 + 0.25 + 0.0625);
  EXPECT_NEAR(at_44100 * bound_sd_hz(44100.0, {1.0, 0.5, 0.25}, 20.0 + whole_over_fundamental_db), 1.640e-4, 1e-7);
}

struct Errors {
  double rms_hz = 0.0;
  double stated_sd_hz = 0.0;  ///< root mean square of what was stated
  double mean_hz = 0.0;
  double in_u95 = 0.0;  ///< share of errors within the stated interval of 95 %
  double span_samples = 0.0;
};

Errors errors_of(const std::vector<double>& amplitudes, double snr_db, double duration_s, std::uint64_t seed) {
  Random random(seed);
  Errors errors;
  for (int trial = 0; trial < trials; ++trial) {
    auto samples = steady_tone({.rate_hz = tone_rate_hz,
                                .duration_s = duration_s,
                                .f0_hz = f0_hz,
                                .harmonic_amplitudes = amplitudes,
                                .start_cycles = random.uniform(0.0, 1.0)});
    add_white_noise(samples, snr_db, random);
    const PitchTrack track = track_pitch(samples, tone_rate_hz, {});
    const FrameSpan span{0, track.frames.size() - 1};
    const MeanFrequency mean = mean_frequency(phase_curves(track, span, f0_hz + 0.5), 0.0);
    const double error_hz = mean.hz - f0_hz;
    errors.rms_hz += error_hz * error_hz / trials;
    errors.stated_sd_hz += mean.sd_hz * mean.sd_hz / trials;
    errors.mean_hz += error_hz / trials;
    errors.in_u95 += std::abs(error_hz) <= normal_u95_factor * mean.sd_hz ? 1.0 / trials : 0.0;
    errors.span_samples = static_cast<double>(span.frames() - 1) * track.hop_s * tone_rate_hz;
  }
  errors.rms_hz = std::sqrt(errors.rms_hz);
  errors.stated_sd_hz = std::sqrt(errors.stated_sd_hz);
  return errors;
}

struct Case {
  std::string name;
  std::vector<double> amplitudes;
  double snr_db;
  double duration_s;
};

void PrintTo(const Case& c, std::ostream* out) { *out << c.snr_db << " dB, " << c.duration_s << " s"; }

class MeanFrequencyIn : public testing::TestWithParam<Case> {};

TEST_P(MeanFrequencyIn, WhiteNoiseComesNearTheBoundAndStatesItsOwnDeviation) {
  const Case& c = GetParam();
  const Errors errors = errors_of(c.amplitudes, c.snr_db, c.duration_s, 17);
  const double bound_hz = bound_sd_hz(errors.span_samples, c.amplitudes, c.snr_db);
  // The bound is that of the samples between the middles of the first frame and the last.
  EXPECT_LT(errors.rms_hz, 1.3 * bound_hz) << "ratio " << errors.rms_hz / bound_hz;
  // No estimate beats the bound of all samples it has seen: one window more. 100 trials: 3 standard deviations, 21 %.
  EXPECT_GT(errors.rms_hz, 0.79 * bound_sd_hz(c.duration_s * tone_rate_hz, c.amplitudes, c.snr_db));
  const double calibration = errors.stated_sd_hz / errors.rms_hz;
  EXPECT_GT(calibration, 0.8);
  EXPECT_LT(calibration, 1.25);
  EXPECT_NEAR(errors.mean_hz, 0.0, 0.35 * errors.rms_hz);  // 3.5 standard errors
  EXPECT_GE(errors.in_u95, 0.88);                          // of 100, 3 standard deviations below 0.95
  RecordProperty("rms_over_bound", std::to_string(errors.rms_hz / bound_hz));
  RecordProperty("stated_over_rms", std::to_string(calibration));
}

const std::vector<double> lone_sine = {0.4};
const std::vector<double> three_harmonics = {0.4, 0.1, 0.05};

INSTANTIATE_TEST_SUITE_P(SteadyTones, MeanFrequencyIn,
                         testing::Values(Case{"LoneSineAt0Db", lone_sine, 0.0, 0.8},
                                         Case{"LoneSineAt10Db", lone_sine, 10.0, 0.8},
                                         Case{"LoneSineAt20Db", lone_sine, 20.0, 0.8},
                                         Case{"LoneSineAt40Db", lone_sine, 40.0, 0.8},
                                         Case{"ThreeHarmonicsAt0Db", three_harmonics, 0.0, 0.8},
                                         Case{"ThreeHarmonicsAt10Db", three_harmonics, 10.0, 0.8},
                                         Case{"ThreeHarmonicsAt20Db", three_harmonics, 20.0, 0.8},
                                         Case{"ThreeHarmonicsAt40Db", three_harmonics, 40.0, 0.8},
                                         Case{"ShortLoneSineAt20Db", lone_sine, 20.0, 0.3},
                                         Case{"LongLoneSineAt20Db", lone_sine, 20.0, 2.0}),
                         [](const auto& tested) { return tested.param.name; });

TEST(MeanFrequency, FollowsATrueWanderAndItsMeanIsTheMeanOfThePitch) {
  // A glide of 20 cents: the mean in Hz over the span, from the phase at its ends.
  const ToneSpec spec{.rate_hz = tone_rate_hz, .duration_s = 1.0, .f0_hz = 600.0};
  const PitchTrack track = track_pitch(glide_tone(spec, 20.0), tone_rate_hz, {});
  const MeanFrequency mean = mean_frequency(phase_curves(track, {0, track.frames.size() - 1}, 603.0), 0.0);
  double true_mean_hz = 0.0;
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const double true_hz = hz_at_cents(600.0, 20.0 * track.time_s(i));
    EXPECT_NEAR(cents_between(true_hz, mean.curve_hz[i]), 0.0, 0.005) << i;
    const bool at_end = i == 0 || i + 1 == track.frames.size();
    true_mean_hz += (at_end ? 0.5 : 1.0) * true_hz / static_cast<double>(track.frames.size() - 1);
  }
  EXPECT_NEAR(cents_between(true_mean_hz, mean.hz), 0.0, 0.01);
}

}  // namespace
}  // namespace windway
