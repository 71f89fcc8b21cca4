// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "slide/effort.hpp"
#include "slide/slide.hpp"

namespace windway {

/// The note after the move, and what the breath must do for it. `found` is the same note with length and reaches;
/// u95_cents is left for the caller.
MovedNote moved_note(const NoteBreath& note, const SlideNote& found, double slide_mm);

}  // namespace windway
