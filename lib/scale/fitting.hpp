// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

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

/// Names the holds of pooled takes under one model: the offset of each take, on a grid out to
/// `furthest_offset_cents` either way, and the sequence of notes most probable under it, by the rule of Viterbi.
/// `takes` must hold a pitch. Cost: holds times offsets.
ScaleFit fit_scale(const std::vector<HeardTake>& takes, const ScaleModel& model, double furthest_offset_cents);

/// Names again with what the fit has taught of each note: where it lies for all its holds together. Repeats of a note
/// that is itself far out, or of which one was blown softly, so keep together.
ScaleFit refine_fit(const std::vector<HeardTake>& takes, const ScaleModel& model, const ScaleFit& fit);

}  // namespace windway
