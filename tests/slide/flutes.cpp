// SPDX-License-Identifier: GPL-3.0-or-later
#include "flutes.hpp"

#include <array>
#include <cmath>

namespace windway::test {
namespace {

constexpr std::array<int, 7> major{0, 2, 4, 5, 7, 9, 11};

double target_hz(int midi) { return 440.0 * std::exp2((midi - 69) / 12.0); }

std::vector<int> two_octaves(int lowest_midi) {
  std::vector<int> out;
  for (const int octave : {0, 12}) {
    for (const int degree : major) out.push_back(lowest_midi + octave + degree);
  }
  return out;
}

void set_reach(NoteBreath& note) {
  note.spread = CentsEstimate{note.hard->cents - note.soft->cents, 0};
  note.reach_soft_cents = note.moderate.cents - note.soft->cents;
  note.reach_hard_cents = note.hard->cents - note.moderate.cents;
}

}  // namespace

NoteBreath one_blow_note(int midi, double moderate_cents, int register_number) {
  NoteBreath note;
  note.id.midi = midi;
  note.register_number = register_number;
  note.target_hz = target_hz(midi);
  note.holds = 1;
  note.moderate.cents = moderate_cents;
  return note;
}

NoteBreath measured_note(int midi, double soft_cents, double moderate_cents, double hard_cents, int register_number) {
  NoteBreath note = one_blow_note(midi, moderate_cents, register_number);
  note.soft = CentsEstimate{soft_cents, 0};
  note.hard = CentsEstimate{hard_cents, 0};
  set_reach(note);
  return note;
}

std::vector<NoteBreath> even_scale(int lowest_midi, double moderate_cents) {
  std::vector<NoteBreath> notes;
  for (const int midi : two_octaves(lowest_midi)) {
    notes.push_back(measured_note(midi, moderate_cents - 15, moderate_cents, moderate_cents + 15,
                                  midi - lowest_midi >= 12 ? 2 : 1));
  }
  return notes;
}

std::vector<NoteBreath> FluteMaker::whistle(double overall_cents) {
  const int lowest_midi = 62 + static_cast<int>(uniform(0, 18));  // D4 to G5
  std::vector<NoteBreath> notes;
  for (const int midi : two_octaves(lowest_midi)) {
    const double moderate_cents = overall_cents + random_.normal(0, 6);
    notes.push_back(measured_note(midi, moderate_cents - uniform(4, 30), moderate_cents,
                                  moderate_cents + uniform(4, 25), midi - lowest_midi >= 12 ? 2 : 1));
  }
  return notes;
}

std::vector<NoteBreath> FluteMaker::measured(std::vector<NoteBreath> truth, double sd_cents) {
  const double u95_cents = sd_cents * normal_u95_factor;
  for (NoteBreath& note : truth) {
    note.soft = CentsEstimate{note.soft->cents + random_.normal(0, sd_cents), u95_cents};
    note.moderate = CentsEstimate{note.moderate.cents + random_.normal(0, sd_cents), u95_cents};
    note.hard = CentsEstimate{note.hard->cents + random_.normal(0, sd_cents), u95_cents};
    set_reach(note);
  }
  return truth;
}

}  // namespace windway::test
