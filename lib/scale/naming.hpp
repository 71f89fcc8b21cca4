// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "holds/holds.hpp"
#include "instrument/instrument.hpp"
#include "instrument/note.hpp"
#include "warning.hpp"

namespace windway {

/// Reads "D5 E5 F#5 D6:vented" (blanks or commas between). Throws Error (kind usage) with the remedy: a note needs its
/// octave.
std::vector<NoteId> parse_order(std::string_view text, NoteNames names);

/// What the player said of the instrument; whatever is missing is inferred from the recording.
struct InstrumentHint {
  /// --order: the run as played, each note once however often it was blown; empty: not said
  std::vector<NoteId> order;
  std::optional<Kind> kind;
  std::optional<WrittenNote> lowest;     ///< octave optional
  std::optional<Instrument> instrument;  ///< known wholly: the rest is not asked
  NoteNames note_names = NoteNames::english;
};

/// A hold with its place in the scale.
struct NamedHold {
  Hold hold;
  NoteId note;  ///< of the scale, or the nearest chromatic one; a further fingering only as `order` says
  bool in_scale = false;
  double target_hz = 0;
  double deviation_cents = 0;  ///< frequency against target, as recorded
  double brought_cents = 0;    ///< what a move of the head to where its note is told for would add; mostly 0
};

/// Its deviation as its note is measured from it.
inline double deviation_as_brought_cents(const NamedHold& hold) { return hold.deviation_cents + hold.brought_cents; }

struct Naming {
  Instrument instrument;
  Tuning tuning;          ///< that the targets follow beside what the instrument means, its key settled
  bool inferred = false;  ///< kind or lowest note came from the recording
  /// Another that explains the recording about as well, where it was left to the recording.
  std::optional<Instrument> rival;
  std::vector<NamedHold> holds;  ///< in the order given
  Warnings warnings;
};

/// Names all holds jointly: one offset for each take plus the pattern of the scale, the order of the run and the
/// repeats, so that a flute 60 cents sharp, or a soft note 50 cents flat, is still named right.
/// Throws Error (kind usage) where the octave of `lowest` contradicts the recording. `holds` must not be empty.
/// Absent a key, `tuning` is on the instrument's lowest note.
Naming name_holds(const std::vector<Hold>& holds, const InstrumentHint& hint, const Tuning& tuning);

}  // namespace windway
