// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_entry.hpp"

#include "instrument/note.hpp"

namespace windway {

std::string spelt(const BenchEntry& entry, const NoteId& note) {
  return with_fingering(note_name(note.midi, entry.lowest_midi.value_or(0) % 12, entry.note_names), note);
}

}  // namespace windway
