// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "scale/hypotheses.hpp"
#include "scale/naming.hpp"

namespace windway {

/// What is doubtful about the names, with its remedy. Codes: instrument_inferred, octave_inferred, one_note_played,
/// not_in_scale, scale_doubtful.
Warnings naming_warnings(const Naming& naming, const InstrumentHint& hint, const std::vector<Hypothesis>& ranked,
                         const std::vector<HeardTake>& takes);

}  // namespace windway
