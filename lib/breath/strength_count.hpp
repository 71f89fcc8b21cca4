// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "breath/strengths.hpp"

namespace windway {

/// How many strengths (1, 2 or 3) the take was blown with, judged jointly over its notes, and each hold's label.
/// More than one is answered only where the evidence is clear, most notes show every strength, and at least two cues
/// agree in every step: a player who repeats one blow loosely has not blown two.
StrengthFit count_strengths(const StrengthProblem& problem);

}  // namespace windway
