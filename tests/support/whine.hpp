// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "support/plan.hpp"
#include "support/take.hpp"

namespace windway::synthesis {

/// Adds a fan: three partials of its shaft of 112 to 128 Hz, the strong one between 700 and 1500 Hz and `level_db` over
/// the median hard blow. None lies within 10 cents of what a note can sound: nothing could tell the two apart.
void add_whine(const FluteModel& flute, const Strengths& strengths, double level_db, SyntheticTake& take,
               Random& random);

}  // namespace windway::synthesis
