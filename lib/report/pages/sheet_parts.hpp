// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "measurement.hpp"
#include "report/measurement/pictured.hpp"
#include "report/page/markup.hpp"

namespace windway {

// The parts of the buyer's sheet. `measurement` can be made a sheet of.

/// How far out of fully in the head belongs, mm; empty: it does not move, or nobody said where it stood.
std::optional<double> head_belongs_mm(const Measurement& measurement);

/// A head and a body as far apart as the head is drawn out, in mm of the printed page, and a line of 50 mm to check
/// them by. Empty for a gap that the sheet has no room for.
Markup gap_markup(double out_mm);

/// Where the head belongs, the gap, the note to set it by; empty of a fixed head.
Markup set_head_section(const Measurement& measurement);

/// The A4 that the head reaches, and the card of A4 against warmth.
Markup with_others_section(const Measurement& measurement);

/// How hard to blow each note, in two columns where there are many.
Markup blow_section(const Measurement& measurement, const Pictured& picture);

}  // namespace windway
