// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "breath/blows/strengths.hpp"

namespace windway {

/// How many strengths (1 to most_strengths) the take was blown with, judged jointly over its notes, and each hold's
/// label: the number of most evidence, by the likelihood of the mixture of labels, what is believed of a player's steps
/// from strength to strength, and of how he repeats a blow. A step is what two of level, breath noise and pitch agree
/// on, so that no room, warming or loose repeat passes for a strength. `problem` has the cues in the order of
/// CueIndex.
StrengthFit count_strengths(const StrengthProblem& problem);

}  // namespace windway
