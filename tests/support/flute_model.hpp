// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "instrument/instrument.hpp"
#include "support/random.hpp"

namespace windway::synthesis {

inline constexpr int model_harmonics = 6;
/// Level of a harmonic that the tone does not have; nothing is drawn for it.
inline constexpr double absent_harmonic_db = -300.0;

/// One note of an invented duct flute. Strength of the breath: log2 of its pressure against a moderate breath.
struct NoteModel {
  int midi = 0;
  int register_number = 1;
  double error_cents = 0;         ///< from equal temperament at a moderate breath
  double cents_per_doubling = 0;  ///< slope of the pitch at a moderate breath
  double bend = 0;                ///< share of the slope lost with each doubling: soft breath bends more
  double loudness_db = 0;         ///< at a moderate breath, against the lowest note
  double tilt_db = 0;             ///< what each harmonic gains on the one below it per doubling: harder is brighter
  std::array<double, model_harmonics> harmonic_db{};  ///< at a moderate breath, against the fundamental
};

/// Everything about the flute; invented, not measured on any.
struct FluteModel {
  Kind kind = Kind::whistle;
  double a4_hz = 440.0;
  double db_per_doubling = 3.5;
  double breath_db = 32.0;       ///< level of the tone over its breath noise, moderate
  double breath_power = 2.0;     ///< the noise rises this many times as fast as the tone, in dB
  double ring = 0.6;             ///< RMS of the lower modes that ring with an overblown note, against the breath noise
  std::vector<NoteModel> notes;  ///< ascending, every semitone
};

/// What is settled before the rest of a flute is drawn by lot.
struct FluteDraw {
  Kind kind = Kind::whistle;
  int lowest_midi = 74;
  double a4_hz = 440.0;
  double overall_cents = 0.0;  ///< how sharp the whole flute is
  double scatter_cents = 5.0;  ///< SD of its notes about that
  double breath_db = 32.0;
};

FluteModel draw_flute(const FluteDraw& draw, Random& random);

/// The note of that key number; it must be one of the flute's.
const NoteModel& note_of(const FluteModel& flute, int midi);
double target_hz(const FluteModel& flute, int midi);
/// Power of the tone at a moderate breath, its fundamental's amplitude being 1: of what a recording at that rate has.
double tone_power(const NoteModel& note, double hz, double rate_hz);
/// Deviation from the target, held steadily at `strength_doublings`. Rises with the breath for every bend.
double cents_at(const NoteModel& note, double strength_doublings);

/// The same flute with its head drawn out by `out_mm` more: every note flatter by design's law of the slide.
FluteModel drawn_out(FluteModel flute, double out_mm);

/// Length of the sounding air column, mm, in air of 25 degrees C.
double effective_length_mm(int register_number, double frequency_hz);
double slide_cents(double length_mm, double out_mm);

}  // namespace windway::synthesis
