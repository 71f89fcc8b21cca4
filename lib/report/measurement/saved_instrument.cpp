// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/saved_instrument.hpp"

#include <algorithm>

#include "report/wording/spelling.hpp"

namespace windway {
namespace {

/// By the rule of its kind.
void add_scale(Instrument& instrument, const std::vector<std::string>& scale) {
  for (const std::string& note : scale) {
    const int midi = midi_spelt_for_programs(note);
    const int register_number = register_of(instrument.kind, midi - instrument.lowest_midi);
    if (!scale_note(instrument, {midi})) instrument.scale.push_back({.id = {midi}, .register_number = register_number});
  }
}

/// A further fingering stands after the usual one.
void set_as_played(Instrument& instrument, const NoteBreath& note) {
  const auto usual = std::ranges::find(instrument.scale, NoteId{note.id.midi}, &ScaleNote::id);
  if (usual == instrument.scale.end()) return;
  ScaleNote played = *usual;
  played.register_number = note.register_number;
  played.weight = note.weight;
  played.can_check = note.can_check;
  played.id = note.id;
  played.id == usual->id ? static_cast<void>(*usual = played)
                         : static_cast<void>(instrument.scale.insert(usual + 1, played));
}

void set_target(Instrument& instrument, const NoteTarget& target) {
  const auto meant = std::ranges::find(instrument.scale, target.id, &ScaleNote::id);
  if (meant != instrument.scale.end()) meant->target_cents = target.cents;
}

}  // namespace

Instrument instrument_of(const InstrumentWords& words, const std::vector<NoteBreath>& played) {
  Instrument instrument;
  instrument.name = words.name;
  instrument.kind = words.kind;
  instrument.lowest_midi = midi_spelt_for_programs(words.lowest);
  instrument.stretch_cents_per_octave = words.stretch_cents_per_octave;
  instrument.maker = words.maker;
  add_scale(instrument, words.scale);
  for (const NoteBreath& note : played) set_as_played(instrument, note);
  for (const NoteTarget& target : words.targets) set_target(instrument, target);
  return instrument;
}

}  // namespace windway
