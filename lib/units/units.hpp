// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <numbers>

namespace windway {

/// 1200 / ln 2: cents per natural-log unit of a frequency ratio.
inline constexpr double cents_per_neper = 1200.0 / std::numbers::ln2;

/// 95 % of a normal distribution lies within this many standard deviations (JCGM 100:2008, table G.1).
inline constexpr double normal_u95_factor = 1.959963984540054;

/// Phase of one whole period.
inline constexpr double full_turn_rad = 2.0 * std::numbers::pi;

/// What is farther from a note is nearer to another.
inline constexpr double half_semitone_cents = 50.0;

/// Cents from `reference_hz` up to `hz`; both must be positive.
inline double cents_between(double reference_hz, double hz) { return cents_per_neper * std::log(hz / reference_hz); }

/// The frequency `cents` above `reference_hz`.
inline double hz_at_cents(double reference_hz, double cents) {
  return reference_hz * std::exp(cents / cents_per_neper);
}

/// 20 log10 of an amplitude ratio; the amplitude must be positive.
inline double db_from_amplitude(double amplitude) { return 20.0 * std::log10(amplitude); }
inline double amplitude_from_db(double db) { return std::pow(10.0, db / 20.0); }
/// 10 log10 of a power ratio; the power must be positive.
inline double db_from_power(double power) { return 10.0 * std::log10(power); }
inline double power_from_db(double db) { return std::pow(10.0, db / 10.0); }

/// A measured quantity in cents with its expanded uncertainty at 95 % (JCGM 100: half the width of the interval).
struct CentsEstimate {
  double cents = 0.0;
  double u95_cents = 0.0;
};

}  // namespace windway
