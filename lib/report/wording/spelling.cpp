// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/spelling.hpp"

#include <array>

#include "error.hpp"
#include "instrument/note.hpp"

namespace windway {

std::string spelt_for_people(int midi, const Measurement& measurement) {
  return note_name(midi, key_pitch_class(measurement.naming.instrument), measurement.settings.note_names);
}

std::string spelt_for_people(const NoteId& note, const Measurement& measurement) {
  return with_fingering(spelt_for_people(note.midi, measurement), note);
}

std::string pitch_class_for_programs(int pitch_class) {
  static constexpr std::array<const char*, 12> names{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
  return names[static_cast<std::size_t>(pitch_class)];
}

std::string spelt_for_programs(int midi) { return pitch_class_for_programs(midi % 12) + std::to_string(midi / 12 - 1); }

int midi_spelt_for_programs(const std::string& name) {
  const WrittenNote note = parse_note(name, NoteNames::english);
  if (!note.octave) throw Error(ErrorKind::recording, "the note \"" + name + "\" has no octave");
  return midi_of(note);
}

}  // namespace windway
