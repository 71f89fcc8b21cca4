// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/breath.hpp"

namespace windway {

/// What a note counts for in the compromise.
struct NoteWeight {
  int midi = 0;
  double weight = 0;
};

/// The notes with the weights that the player's music gives them; a note that it does not sound weighs nothing. Without
/// weights the notes as they are.
std::vector<NoteBreath> weighted(std::vector<NoteBreath> notes, const std::vector<NoteWeight>& weights);

/// The note with all that is counted from its target `cents` higher.
NoteBreath shifted(NoteBreath note, double cents);

/// The notes as they would be all `cents` higher, in a warmer bore.
std::vector<NoteBreath> shifted(std::vector<NoteBreath> notes, double cents);

}  // namespace windway
