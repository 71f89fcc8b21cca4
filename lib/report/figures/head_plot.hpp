// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>

#include "report/measurement/pictured.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// Where the head makes each note true, in characters: a row a note, "<" blown soft, "|" moderately, ">" hard, and the
/// best place, or as near to it as the head goes, as one column of "!". Of a fixed head in cents. At most `columns`
/// wide (at least 40).
Prose head_plot(const Pictured& pictured, std::size_t columns);

}  // namespace windway
