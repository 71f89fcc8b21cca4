// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "scale/naming.hpp"
#include "warning.hpp"

namespace windway {

/// One `octave_slip` for each note that went over into the octave below it without a gap while it was blown softly:
/// what sounds from there on stands among the holds of the lower note. Notes ascend; empty where none slipped.
Warnings octave_slips(const std::vector<NamedHold>& holds, const Instrument& instrument);

}  // namespace windway
