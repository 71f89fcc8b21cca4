// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "scale/note_path.hpp"
#include "scale/scale_model.hpp"

namespace windway {

/// The holds of all takes, named under one model.
struct ScaleFit {
  double log_score = 0;                ///< log of prior times likelihood; fits of the same takes compare by it
  std::vector<double> offset_cents;    ///< by take: how sharp the whole take is
  std::vector<std::vector<int>> midi;  ///< by take, by hold
};

/// The offsets that a take is tried at, and what its holds can add to a score at each: the same for all models.
struct OffsetGrid {
  double furthest_cents = 0;
  std::vector<double> cents;
  std::vector<std::vector<std::vector<double>>> most_from;  ///< by take, by offset: most_from_hold
};

/// Out to `furthest_cents` either way.
OffsetGrid offset_grid(const std::vector<HeardTake>& takes, double furthest_cents);

/// Names the holds of pooled takes under one model: the offset of each take, on the grid, and the sequence of notes
/// most probable under it, by the rule of Viterbi. Empty where the score would be under `least_log_score`: most models
/// are out of the question after a few holds. `takes` must hold a pitch. Cost: holds times offsets.
std::optional<ScaleFit> fit_scale(const std::vector<HeardTake>& takes, const ScaleModel& model, const OffsetGrid& grid,
                                  double least_log_score);

/// Names again with what the fit has taught of each note: where it lies for all its holds together. Repeats of a note
/// that is itself far out, or of which one was blown softly, so keep together.
ScaleFit refine_fit(const std::vector<HeardTake>& takes, const ScaleModel& model, const ScaleFit& fit);

}  // namespace windway
