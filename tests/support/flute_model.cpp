// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/flute_model.hpp"

#include <cassert>
#include <cmath>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

// Dry air of 25 degrees C with 400 ppm CO2: O. Cramer, J. Acoust. Soc. Am. 93 (1993) 2510, 346.268 m/s.
constexpr double sound_mm_per_s = 346267.7;
constexpr int semitones = 27;  // two octaves and a tone

// Cents per doubling of the breath pressure by semitone of the octave: the lowest note and the fourth steady, the
// fifth to the seventh lively (common practice, no source; figures invented).
constexpr std::array<double, 12> typical_slope_cents = {4.0, 5.0,  5.5,  6.5,  7.0,  5.0,
                                                        9.0, 12.5, 14.0, 15.5, 17.0, 18.5};

int register_by_kind(Kind kind, int up) {
  if (kind == Kind::recorder) return up <= 14 ? 1 : up <= 21 ? 2 : 3;
  return up >= 12 ? 2 : 1;
}

NoteModel draw_note(const FluteDraw& draw, int up, double register_error_cents, Random& random) {
  NoteModel note;
  note.midi = draw.lowest_midi + up;
  note.register_number = register_by_kind(draw.kind, up);
  note.error_cents = draw.overall_cents + random.normal(0.0, draw.scatter_cents);
  if (note.register_number > 1) note.error_cents += register_error_cents;
  const double height = up >= 12 ? 1.1 : 1.0;
  note.cents_per_doubling = typical_slope_cents[static_cast<std::size_t>(up % 12)] * height * random.uniform(0.8, 1.3);
  note.bend = random.uniform(0.12, 0.26);
  note.loudness_db = 0.12 * up + random.normal(0.0, 0.8);
  note.tilt_db = random.uniform(0.6, 2.2);
  for (int k = 1; k < model_harmonics; ++k) {
    const double odd_db = k % 2 == 0 ? 0.0 : -4.0;  // even harmonics are weaker in a pipe open at both ends, slightly
    note.harmonic_db[static_cast<std::size_t>(k)] = -9.0 - 4.5 * k + odd_db + random.normal(0.0, 3.0);
  }
  return note;
}

}  // namespace

FluteModel draw_flute(const FluteDraw& draw, Random& random) {
  FluteModel flute;
  flute.kind = draw.kind;
  flute.a4_hz = draw.a4_hz;
  flute.breath_db = draw.breath_db;
  flute.db_per_doubling = random.uniform(2.9, 4.1);
  flute.breath_power = random.uniform(1.5, 2.4);
  const double register_error_cents = random.normal(0.0, 3.0);
  for (int up = 0; up < semitones; ++up) flute.notes.push_back(draw_note(draw, up, register_error_cents, random));
  return flute;
}

const NoteModel& note_of(const FluteModel& flute, int midi) {
  const auto index = static_cast<std::size_t>(midi - flute.notes.front().midi);
  assert(index < flute.notes.size());
  return flute.notes[index];
}

// MIDI Tuning Standard, ISO 16
double target_hz(const FluteModel& flute, int midi) { return flute.a4_hz * std::exp2((midi - 69) / 12.0); }

double tone_power(const NoteModel& note, double hz, double rate_hz) {
  double power = 0.0;
  for (std::size_t k = 0; k < model_harmonics && static_cast<double>(k + 1) * hz < 0.45 * rate_hz; ++k) {
    power += 0.5 * power_from_db(note.harmonic_db[k]);
  }
  return power;
}

double cents_at(const NoteModel& note, double strength_doublings) {
  return note.error_cents - note.cents_per_doubling * std::expm1(-note.bend * strength_doublings) / note.bend;
}

FluteModel drawn_out(FluteModel flute, double out_mm) {
  for (NoteModel& note : flute.notes) {
    const double now_hz = hz_at_cents(target_hz(flute, note.midi), note.error_cents);
    note.error_cents += slide_cents(effective_length_mm(note.register_number, now_hz), out_mm);
  }
  return flute;
}

double effective_length_mm(int register_number, double frequency_hz) {
  return register_number * sound_mm_per_s / (2.0 * frequency_hz);
}

double slide_cents(double length_mm, double out_mm) { return -1200.0 * std::log2(1.0 + out_mm / length_mm); }

}  // namespace windway::synthesis
