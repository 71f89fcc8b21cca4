// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <vector>

#include "agreement/take_notes.hpp"

namespace windway::test {

/// What is off about a note of a take, cents; counted from the lowest note.
using OffOfNote = std::function<double(const NoteBreath& note, std::size_t at)>;

/// The notes of an octave and more from D5, moderate by `off`, each known to 0.4 cents (u95) and read a little off,
/// otherwise in each take. Spreads from 10 to 46 cents.
TakeNotes invented_take(int take, const OffOfNote& off, double reading_sd_cents = 0.2);

/// What the law of the slide makes of the note.
OffOfNote drawn_out_by(double out_mm, double factor = 1.0);

}  // namespace windway::test
