// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "compare/compare.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// For people: what has changed, note by note, and what that says of the head's move or of the player. `before` gives
/// the notes their names.
Prose compare_prose(const Comparison& comparison, const Measurement& before);

/// One row a note, RFC 4180; always these columns: note, midi, is_real, before_cents, before_u95_cents, after_cents,
/// after_u95_cents, change_cents, change_u95_cents, predicted_cents, spread_before_cents, spread_after_cents,
/// spread_change_cents, spread_change_u95_cents, wander_before_cents, wander_after_cents.
std::string compare_csv(const Comparison& comparison, const Measurement& before);

/// For programs: one JSON object, schema windway.comparison.v1.
std::string compare_json(const Comparison& comparison, const std::string& program_version);

}  // namespace windway
