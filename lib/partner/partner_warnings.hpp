// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "partner/partner.hpp"

namespace windway {

/// What is doubtful about a partner's pitch, with its remedy. Codes: partner_pitch_ambiguous, partner_one_note,
/// partner_out_of_range, partner_notes_disagree, partner_far_off, partner_beats, partner_chords.
Warnings partner_warnings(const Partner& partner, double guess_a4_hz);

}  // namespace windway
