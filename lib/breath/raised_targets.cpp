// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/raised_targets.hpp"

#include <utility>

#include "breath/as_asked.hpp"

namespace windway {

std::vector<NoteBreath> with_targets_raised(std::vector<NoteBreath> notes, double cents) {
  notes = shifted(std::move(notes), -cents);
  for (NoteBreath& note : notes) note.target_hz = hz_at_cents(note.target_hz, cents);
  return notes;
}

}  // namespace windway
