// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "agreement/take_model.hpp"
#include "agreement/take_notes.hpp"

namespace windway {

/// What can be compared of several takes: the notes that two of them at least have, of takes that hang together by
/// such notes.
struct TakeTable {
  std::vector<std::size_t> takes;  ///< by column: which of the takes given
  std::vector<NoteId> notes;       ///< by row
  std::vector<TakeCell> cells;     ///< moderate; take and note count columns and rows
  std::vector<int> left_out;       ///< takes that share no note with the others
};

/// Of fewer than two takes, or takes without a note in common, there are no cells.
TakeTable take_table(const std::vector<TakeNotes>& takes);

/// True if one more note may be left out: a third of all at most.
bool may_leave_out(const TakeTable& table, std::size_t already);

/// The same without a note.
TakeTable without_note(TakeTable table, std::size_t note);

/// The note in that take; null where the take has it not.
const NoteBreath* note_in(const TakeNotes& take, const NoteId& id);

}  // namespace windway
