// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"

namespace windway {

/// One row a note, RFC 4180 (comma, CR LF, quotes where needed), UTF-8. The columns are always these, in this order;
/// what was not measured is an empty cell:
///
///     note, midi, register, target_hz, holds,
///     soft_cents, soft_u95_cents, moderate_cents, moderate_u95_cents, moderate_is_midway, hard_cents, hard_u95_cents,
///     spread_cents, spread_u95_cents, cents_per_db, cents_per_db_u95, level_range_db, reach_soft_cents,
///     reach_hard_cents, effective_length_mm, cents_per_mm, moved_cents, moved_u95_cents, moved_effort, moved_breath,
///     moved_breath_share, moved_breath_db, moved_beats_hz, a4_hz, slide_mm, slide_u95_mm, slide_model_u95_mm,
///     shift_cents, shift_u95_cents, limit, home_a4_hz, takes
///
/// The columns from a4_hz on say the same in each row, so that tables of many measurements can be put together; takes
/// are the paths, separated by "; ".
std::string csv_report(const Measurement& measurement);

}  // namespace windway
