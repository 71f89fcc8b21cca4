// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/as_asked.hpp"

#include <algorithm>
#include <utility>

namespace windway {

std::vector<NoteBreath> weighted(std::vector<NoteBreath> notes, const std::vector<NoteWeight>& weights) {
  if (weights.empty()) return notes;
  for (NoteBreath& note : notes) {
    const auto own = std::ranges::find(weights, note.id.midi, &NoteWeight::midi);
    note.weight = own == weights.end() ? 0.0 : own->weight;
  }
  return notes;
}

NoteBreath shifted(NoteBreath note, double cents) {
  note.moderate.cents += cents;
  if (note.soft) note.soft->cents += cents;
  if (note.hard) note.hard->cents += cents;
  return note;
}

std::vector<NoteBreath> shifted(std::vector<NoteBreath> notes, double cents) {
  for (NoteBreath& note : notes) note = shifted(std::move(note), cents);
  return notes;
}

}  // namespace windway
