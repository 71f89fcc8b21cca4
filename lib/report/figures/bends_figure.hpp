// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "report/measurement/pictured.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// How the breath bends each note: a small picture a note, all on one scale; louder to the right, sharper upwards, a
/// mark a hold. Empty where no hold has a strength: then there is nothing to show.
Markup bends_section(const Measurement& measurement, const Pictured& pictured);

}  // namespace windway
