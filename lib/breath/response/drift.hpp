// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// Slow change of the pitch over the take (warming), separated from the blowing by repeats.
struct Drift {
  double over_take_cents = 0;  ///< from the first hold to the last
  double over_take_u95_cents = 0;
  std::optional<double> reference_time_s;  ///< notes are given as at this time; absent where nothing was corrected
  /// A change all at once, which explains the repeats far better than a slow one. When it came is not told: played up
  /// and down again, an early one looks like one as long before the end.
  std::optional<double> step_cents{};
};

/// A change of the pitch by less needs no thought of the player (common practice, no source).
inline constexpr double drift_worth_a_word_cents = 3.0;

/// One hold as the drift is sought in it.
struct DriftPoint {
  int group = 0;               ///< same note and same blow
  double time_s = 0;           ///< middle of the hold
  double cents = 0;            ///< deviation
  double variance_cents2 = 0;  ///< of the deviation about the blow's response
  double breath_cents = 0;     ///< what its level foretells: level times the note's cents per dB, from any zero
};

/// The span of time over which the drift is asked.
struct DriftSpan {
  double start_s = 0;  ///< the first hold begins
  double end_s = 0;    ///< the last hold ends: the reference time
};

struct DriftFit {
  Drift drift;
  std::vector<double>
      correction_cents;  ///< by point: to add, so that it stands at the reference time; 0 if not significant
  std::vector<double> correction_sd_cents;  ///< by point
};

/// What a flute that was cold when a take began may rise by between two times after that, cents (u95). A cold flute may
/// rise by 20 cents over some minutes (from memory; 3 cents a degree, Cramer 1993).
double cold_rise_cents(double from_s, double to_s);

/// Drift over the take as repeats of the same note and blow tell it: deviation = group mean + size g(t), g the approach
/// to warmth 1 - exp(-t / tau) (Newton's law of cooling), tau over a grid up to the straight line, averaged by
/// likelihood. Of repeats blown unequally the level foretells a part of the difference: how much of it is fitted with
/// the size, since a room may have bent the levels; where they foretell enough of it, all groups scatter alike. Nothing
/// where no repeats lie at least half the span apart, or fewer than three groups do.
std::optional<DriftFit> find_drift(const std::vector<DriftPoint>& points, const DriftSpan& span);

}  // namespace windway
