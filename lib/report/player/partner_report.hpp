// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "partner/partner.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// For people: which A4 the partner plays, then a table of its notes, then what is doubtful and what to do about it.
Prose partner_prose(const Partner& partner);

/// One row a note, RFC 4180; always these columns: note, midi, frequency_hz, u95_cents, deviation_cents, inharmonicity,
/// inharmonicity_u95, partials, beat_hz, start_s, duration_s, counts, a4_hz, a4_u95_hz. The last two are the same in
/// each row; what was not measured is an empty cell.
std::string partner_csv(const Partner& partner);

/// For programs: one JSON object, schema windway.partner.v1; what was not measured is null.
std::string partner_json(const Partner& partner, const std::string& program_version);

}  // namespace windway
