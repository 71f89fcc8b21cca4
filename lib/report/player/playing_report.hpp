// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "playing/playing.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// For people: the further move and which octave goes sharp, then how each note comes out.
Prose playing_prose(const Playing& playing);

/// One row a note, RFC 4180; always these columns: note, midi, register, in_scale, target_hz, sounded_s, time_share,
/// occurrences, median_cents, median_u95_cents, lower_quartile_cents, upper_quartile_cents, moderate_cents,
/// from_take_cents, from_take_u95_cents, moved_cents, moved_u95_cents.
std::string playing_csv(const Playing& playing);

/// For programs: one JSON object, schema windway.playing.v1.
std::string playing_json(const Playing& playing, const std::string& program_version);

}  // namespace windway
