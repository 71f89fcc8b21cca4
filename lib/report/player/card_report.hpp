// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "card/head_card.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// What a card without a travel must say, a sentence without its full stop.
inline constexpr auto travel_not_known =
    "How far out the head goes is not known, so a place here may be farther out than that";

/// The card to tape inside the flute's case: a table, what its marks mean, and what it rests on. `measurement` is what
/// the card was made from.
Prose card_prose(const HeadCard& card, const Measurement& measurement);

/// Its table alone: a row for each A4, a column for each temperature. `card` may be a part of one.
Grid card_table(const HeadCard& card);

/// What the table's marks mean, those that are in it.
Prose card_marks(const HeadCard& card);

/// How sure the table's figures are, and what a wrong temperature does to them; empty where it has no figure.
Prose card_doubt(const HeadCard& card);

/// One row a cell, RFC 4180; always these columns: a4_hz, bore_temp_c, slide_mm, slide_u95_mm, head_out_mm, limit,
/// check_note, check_midi, check_cents, check_u95_cents.
std::string card_csv(const HeadCard& card, const Measurement& measurement);

/// For programs: one JSON object, schema windway.card.v1.
std::string card_json(const HeadCard& card, const Measurement& measurement, const std::string& program_version);

}  // namespace windway
