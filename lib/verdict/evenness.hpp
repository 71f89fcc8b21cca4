// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "verdict/verdict.hpp"

namespace windway {

// All of these look at the notes after the instrument's own best slide, those of weight 0 left out; the measurement
// must have its compromise.

/// Pairs are a note and the one an octave above it in the next register, usual fingerings. Empty where there is none.
std::optional<OctaveRelation> octave_relation(const Measurement& measurement);

/// RMS of what is left of the notes; empty where no note counts.
std::optional<double> evenness_cents(const Measurement& measurement);

/// Empty where fewer than two notes count.
std::optional<UnevenStep> worst_step(const Measurement& measurement);

}  // namespace windway
