// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "breath/response/response.hpp"

namespace windway {

/// What must be said about the notes' responses, one sentence for many notes, with a remedy that the player has not
/// used yet: `hint` is what was said of the blows.
Warnings response_warnings(const std::vector<NoteResponse>& responses, const Loudness& loudness, const Naming& naming,
                           const BlowHint& hint);

/// Two strengths so near each other that they may be any two of three (code strengths_unknown).
Warning strengths_unknown();

}  // namespace windway
