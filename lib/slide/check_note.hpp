// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "slide/effort.hpp"
#include "slide/slide.hpp"

namespace windway {

/// The note to set the head by: of the lowest register in which a note can be brought to its target, the one that sets
/// it most surely: least (L / 1731.2) sqrt(u_moderate^2 + (cents_per_db * repeat_db)^2 + (residual / 3)^2), because an
/// offset from a drone is only judged. A note without cents per dB takes the take's median; where no note has it, short
/// notes are taken as the less steady. `found` are the same notes with their lengths.
CheckNote check_note(const std::vector<NoteBreath>& notes, const std::vector<SlideNote>& found, double slide_mm,
                     std::optional<double> repeat_db);

}  // namespace windway
