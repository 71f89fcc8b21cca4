// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "scale/fitting.hpp"
#include "scale/naming.hpp"
#include "scale/scale_model.hpp"

namespace windway {

/// A model and the holds named under it.
struct Hypothesis {
  ScaleModel model;
  ScaleFit fit;
};

/// Every instrument, and every key on it, that what was said leaves open and the lowest pitches allow; at least one.
std::vector<ScaleModel> possible_models(const InstrumentHint& hint, const std::vector<HeardTake>& takes);

/// A rival less likely than 1 in 20 is not worth a word.
inline constexpr double rival_log_score = 3.0;

/// The most probable model fitted to the takes, then its rivals: those that come within rival_log_score of it, and
/// perhaps some that do not.
std::vector<Hypothesis> ranked_hypotheses(const InstrumentHint& hint, const std::vector<HeardTake>& takes);

/// The likeliest hypothesis of another instrument, by kind or lowest note, that comes within rival_log_score of the
/// first; null where none does.
const Hypothesis* rival_of_first(const std::vector<Hypothesis>& ranked);

}  // namespace windway
