// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "bench/bench_entry.hpp"

namespace windway::batch_tests {

/// A measured whistle in D that passes, its notes from D5 up in whole tones, left `cents` off.
inline BenchEntry made_up_entry(const std::string& serial, const std::vector<double>& cents,
                                const std::string& recorded_at = "") {
  BenchEntry entry;
  entry.path = serial + ".wav";
  entry.subject.serial = serial;
  if (!recorded_at.empty()) entry.recorded_at = entry.subject.recorded_at = recorded_at;
  entry.lowest_midi = 74;
  entry.result = VerdictResult::pass;
  int midi = 74;
  for (const double left_cents : cents) {
    EntryNote& note = entry.notes.emplace_back();
    note.id.midi = midi;
    note.moderate = {left_cents + 3.0, 0.5};
    note.moved = CentsEstimate{left_cents, 0.5};
    note.effective_length_mm = 290.0 - 20.0 * (midi - 74) / 2.0;
    midi += 2;
  }
  return entry;
}

/// The entry, its lowest note passed within `tolerance_cents` either way.
inline BenchEntry with_tolerance(double tolerance_cents, BenchEntry entry) {
  EntryJudged& each = entry.judged.emplace_back();
  each.judged.criterion = Criterion::note;
  each.judged.result = VerdictResult::pass;
  each.judged.note = NoteId{74};
  each.judged.upper = tolerance_cents;
  return entry;
}

/// One of the takes of an instrument that are `takes` in all.
inline BenchEntry one_of(int takes, BenchEntry entry) {
  entry.counting.takes_of_subject = takes;
  return entry;
}

}  // namespace windway::batch_tests
