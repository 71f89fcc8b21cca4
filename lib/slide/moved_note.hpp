// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "slide/effort.hpp"
#include "slide/slide.hpp"

namespace windway {

/// The note after the move, and what the breath must do for it. `found` is the same note with length and reaches;
/// u95_cents is left for the caller.
MovedNote moved_note(const NoteBreath& note, const SlideNote& found, double slide_mm);

/// The notes with the reaches as the search for the compromise used them; `found` are the same notes.
std::vector<MovedNote> with_reaches(std::vector<MovedNote> notes, const std::vector<SlideNote>& found);

}  // namespace windway
