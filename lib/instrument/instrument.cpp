// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument.hpp"

#include <algorithm>
#include <array>

#include "units/units.hpp"

namespace windway {
namespace {

// From memory, no source: two octaves and a second (a tone) are what players use of either kind.
constexpr int range_semitones = 26;

bool whistle_plays(int semitones_above_lowest) {
  constexpr std::array<bool, 12> plays = {true, false, true, false, true, true, false, true, false, true, true, true};
  return plays[static_cast<std::size_t>(semitones_above_lowest % 12)];
}

}  // namespace

Instrument builtin_instrument(Kind kind, int lowest_midi) {
  Instrument instrument;
  instrument.kind = kind;
  instrument.lowest_midi = lowest_midi;
  for (int up = 0; up <= range_semitones; ++up)
    if (is_midi_key(lowest_midi + up) && (kind == Kind::recorder || whistle_plays(up)))
      instrument.scale.push_back({.id = {lowest_midi + up}, .register_number = register_of(kind, up)});
  return instrument;
}

int key_pitch_class(const Instrument& instrument) { return ((instrument.lowest_midi % 12) + 12) % 12; }

const ScaleNote* scale_note(const Instrument& instrument, const NoteId& note) {
  const auto found = std::ranges::find(instrument.scale, note, &ScaleNote::id);
  return found == instrument.scale.end() ? nullptr : &*found;
}

double intended_cents(const Instrument& instrument, const NoteId& note) {
  constexpr double octave = 12.0;
  const ScaleNote* own = scale_note(instrument, note);
  return (own ? own->target_cents : 0.0) +
         instrument.stretch_cents_per_octave * (note.midi - instrument.lowest_midi) / octave;
}

std::vector<NoteTarget> own_targets(const Instrument& instrument) {
  std::vector<NoteTarget> targets;
  for (const ScaleNote& note : instrument.scale)
    if (note.target_cents != 0.0) targets.push_back({note.id, note.target_cents});
  return targets;
}

double target_hz(const NoteId& note, const Instrument& instrument, const Tuning& tuning) {
  return hz_at_cents(target_hz(note.midi, tuning), intended_cents(instrument, note));
}

std::string spelt(int midi, const Instrument& instrument) {
  return note_name(midi, key_pitch_class(instrument), instrument.note_names);
}

std::string spelt(const NoteId& note, const Instrument& instrument) {
  return with_fingering(spelt(note.midi, instrument), note);
}

Instrument spelling_as(NoteNames note_names, Instrument instrument) {
  instrument.note_names = note_names;
  return instrument;
}

int register_of(Kind kind, int semitones_above_lowest) {
  if (kind == Kind::whistle) return semitones_above_lowest >= 12 ? 2 : 1;
  return semitones_above_lowest <= 14 ? 1 : semitones_above_lowest <= 21 ? 2 : 3;
}

std::string kind_name(Kind kind) { return kind == Kind::whistle ? "whistle" : "recorder"; }

std::string key_name(const Instrument& instrument) {
  std::string name = spelt(instrument.lowest_midi, instrument);
  while (!name.empty() && (name.back() == '-' || (name.back() >= '0' && name.back() <= '9'))) name.pop_back();
  return name;
}

std::string described(const Instrument& instrument) {
  return kind_name(instrument.kind) + " in " + key_name(instrument) + " from " +
         spelt(instrument.lowest_midi, instrument);
}

}  // namespace windway
