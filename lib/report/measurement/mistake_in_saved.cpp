// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/mistake_in_saved.hpp"

#include <algorithm>

namespace windway {

std::string mistake_in(const Measurement& measurement) {
  if (!(measurement.speed_of_sound_m_s > 0)) return "its speed of sound is not positive";
  if (!(measurement.settings.tuning.a4_hz > 0)) return "its A4 is not positive";
  for (const NamedHold& hold : measurement.naming.holds)
    if (!is_midi_key(hold.note.midi)) return "a hold's midi is not from 0 to 127";
  for (const NoteBreath& note : measurement.breath.notes) {
    if (!is_midi_key(note.id.midi)) return "a note's midi is not from 0 to 127";
    if (note.register_number < 1 || !(note.target_hz > 0)) return "a note's register or target is not positive";
    if (!(note.weight >= 0)) return "a note's weight is negative";
  }
  const auto takes = static_cast<int>(measurement.takes.size());
  if (measurement.places) {
    if (static_cast<int>(measurement.places->out_mm.size()) != takes) return "its places are not one for each take";
    for (const NoteId& note : measurement.places->not_following)
      if (!is_midi_key(note.midi)) return "a note's midi is not from 0 to 127";
  }
  if (measurement.agreement) {
    for (const TakeOffset& offset : measurement.agreement->takes)
      if (offset.take < 0 || offset.take >= takes) return "a take that it compares is none of its takes";
    for (const NoteApart& note : measurement.agreement->notes)
      if (!is_midi_key(note.note.midi) || note.take < 0 || note.take >= takes)
        return "a note apart is of none of its takes";
  }
  if (measurement.compromise && std::ranges::find(measurement.breath.notes, measurement.compromise->check_note.id,
                                                  &NoteBreath::id) == measurement.breath.notes.end())
    return "its check note is none of its notes";
  return "";
}

}  // namespace windway
