// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/breath.hpp"

namespace windway {

/// No player bends a note less than this, whatever one timid blow said.
inline constexpr double least_reach_cents = 5.0;

/// Effort beyond which a note no longer pulls harder (knee of the loss: P. J. Huber, Ann. Math. Statist. 35 (1964) 73).
inline constexpr double effort_knee = 2.0;

/// A note as the search for the compromise sees it.
struct SlideNote {
  double moderate_cents = 0;
  double effective_length_mm = 0;
  double reach_soft_cents = least_reach_cents;  ///< as used: at least 5, filled in where not measured
  double reach_hard_cents = least_reach_cents;
  double weight = 1.0;
  double slide_factor = 1.0;  ///< of the instrument: its change against the law's
};

/// Notes with effective length n c / (2 f) and both reaches filled in: a note without takes the median of those that
/// have it, 5 cents where none has. Weights that are all 0 count as 1 each.
std::vector<SlideNote> slide_notes(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s,
                                   double slide_factor = 1.0);

/// What drawing the head out by `slide_mm` does to the note.
double change_cents(const SlideNote& note, double slide_mm);

/// Cents from the target after the move, the target itself raised by `target_shift_cents`.
double residual_cents(const SlideNote& note, double slide_mm, double target_shift_cents = 0);

/// |residual| over the reach on its side: to soft where it is sharp, to hard where it is flat.
double effort(const SlideNote& note, double residual_cents);

/// Weighted mean cost: effort squared up to the knee, straight beyond it, so that a note that no breath saves does
/// not drag the others.
double mean_cost(const std::vector<SlideNote>& notes, double slide_mm);

/// Derivatives of the mean cost by the slide (per mm) and by a shift of all targets (per cent); both are continuous.
double cost_slope_per_mm(const std::vector<SlideNote>& notes, double slide_mm);
double cost_slope_per_cent(const std::vector<SlideNote>& notes, double slide_mm, double target_shift_cents);

/// Where the head makes a note true, blown soft, moderately and hard: mm drawn out (+) from where it stands.
struct TruePlaces {
  double soft_mm = 0;
  double moderate_mm = 0;
  double hard_mm = 0;
};

/// By the law of the slide itself, not its straight line; so far in that no tube is left is never reached.
TruePlaces true_places(const SlideNote& note);

/// The mean cost with the head at a place.
struct PlaceCost {
  double slide_mm = 0;
  double cost = 0;
};

/// The cost at `points` places evenly from one to the other; `points` is at least 2.
std::vector<PlaceCost> cost_curve(const std::vector<SlideNote>& notes, double from_mm, double to_mm, int points);

/// Weighted mean change of pitch that the move makes.
double mean_change_cents(const std::vector<SlideNote>& notes, double slide_mm);

}  // namespace windway
