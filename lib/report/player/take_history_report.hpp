// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "compare/take_history.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// For people: the takes of one flute in order, what changed from each to the next, and how well they agree.
Prose take_history_prose(const TakeHistory& history);

/// One row a note of each take, RFC 4180; always these columns: path, recorded_at, a4_hz, air_c, head_out_mm,
/// home_a4_hz, slide_mm, slide_u95_mm, limit, note, midi, moderate_cents, moderate_u95_cents, change_cents,
/// change_u95_cents, is_real, apart_cents, apart_u95_cents, is_apart. The first take has no changes.
std::string take_history_csv(const TakeHistory& history);

/// For programs: one JSON object, schema windway.take_history.v1.
std::string take_history_json(const TakeHistory& history, const std::string& program_version);

}  // namespace windway
