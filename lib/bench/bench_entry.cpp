// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_entry.hpp"

#include "scale/note.hpp"

namespace windway {

std::string spelt(const BenchEntry& entry, int midi, const std::string& fingering) {
  const std::string name = note_name(midi, entry.lowest_midi.value_or(0) % 12, entry.note_names);
  return fingering.empty() ? name : name + " " + fingering;
}

}  // namespace windway
