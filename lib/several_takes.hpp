// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "agreement/take_notes.hpp"
#include "measurement.hpp"

namespace windway {

// The steps of `measure` that several takes of one call ask for; of one take they leave all as it is.

/// Throws Error (kind usage) where two takes hold the same sound, copied, cut or coded anew: counted as two, it would
/// seem surer than it is.
void refuse_same_sound(const std::vector<TakeInfo>& takes, const std::vector<Hold>& holds);

/// Each take by itself (notes_by_take). Where the head stood at several places, `found` gets them, its holds are
/// brought to one, which is then the head's place, and so are the notes given back: by the law of the slide, with the
/// factor that fits the takes where they tell it.
std::vector<TakeNotes> brought_to_one_place(Measurement& found);

/// Of the take, or of each of several: that it was not warm yet, or that its pitch fell or jumped.
Warnings cold_take_warnings(const Measurement& found, const std::vector<TakeNotes>& takes);

/// Adds to `found` whether the takes agree, with what is to be said of it; where they do not, the move that each asks
/// for by itself.
void compare_takes(Measurement& found, const std::vector<TakeNotes>& takes);

/// The notes for the air and by the weights that are asked.
std::vector<NoteBreath> as_asked(std::vector<NoteBreath> notes, const MeasureSettings& settings);
BreathResult as_asked(BreathResult breath, const MeasureSettings& settings);

/// The compromise of the notes found, with the doubt of the reference pitch and of what the takes differ by.
Compromise compromise_of(const Measurement& found);

}  // namespace windway
