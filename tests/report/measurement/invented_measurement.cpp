// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/invented_measurement.hpp"

namespace windway::report_tests {
namespace {

NoteBreath full_note(int midi, CentsEstimate soft, CentsEstimate moderate, CentsEstimate hard) {
  NoteBreath note;
  note.id = {midi};
  note.register_number = 1;
  note.target_hz = equal_tempered_hz(midi, 440.0);
  note.holds = 3;
  note.soft = soft;
  note.moderate = moderate;
  note.hard = hard;
  note.spread = CentsEstimate{hard.cents - soft.cents, 0.3};
  note.cents_per_db = CentsEstimate{1.5, 0.1};
  note.level_range_db = 9.25;
  note.reach_soft_cents = moderate.cents - soft.cents;
  note.reach_hard_cents = hard.cents - moderate.cents;
  return note;
}

NoteBreath one_strength_note(int midi, CentsEstimate moderate) {
  NoteBreath note;
  note.id = {midi};
  note.target_hz = equal_tempered_hz(midi, 440.0);
  note.holds = 1;
  note.moderate = moderate;
  return note;
}

MovedNote moved_note(double cents, BreathAdvice breath, std::optional<double> share) {
  MovedNote moved;
  moved.cents = cents;
  moved.u95_cents = 0.2;
  moved.effort = share.value_or(0.1);
  moved.breath = breath;
  moved.breath_share = share;
  if (share) moved.breath_db = breath == BreathAdvice::harder ? 1.5 : -2.5;
  moved.beats_hz = 0.31;
  moved.reach_soft_cents = 10;
  moved.reach_hard_cents = 10;
  moved.effective_length_mm = 295.1;
  moved.cents_per_mm = 5.87;
  return moved;
}

Compromise invented_compromise() {
  Compromise compromise;
  compromise.slide_mm = 1.24;
  compromise.slide_u95_mm = 0.08;
  compromise.slide_model_u95_mm = 0.062;
  compromise.shift_cents = -7.93;
  compromise.shift_u95_cents = 0.41;
  compromise.cost_before = 1.9;
  compromise.cost_after = 0.2;
  compromise.home_a4_hz = 442.02;
  compromise.check_note = {{74}, 0.93, 0.05};
  compromise.notes = {moved_note(0.93, BreathAdvice::as_it_is, std::nullopt),
                      moved_note(-3.6, BreathAdvice::harder, 0.48), moved_note(4.14, BreathAdvice::softer, 0.26),
                      moved_note(14.5, BreathAdvice::out_of_reach, std::nullopt)};
  return compromise;
}

Naming invented_naming() {
  Naming naming;
  naming.instrument.kind = Kind::whistle;
  naming.instrument.lowest_midi = 74;
  for (const int midi : {74, 76, 78, 79, 81, 83, 85}) naming.instrument.scale.push_back({{midi}, 1, 1.0});
  double start_s = 0.5;
  for (const int midi : {74, 74, 74, 78, 78, 78, 81, 81, 81, 83, 84}) {
    NamedHold named;
    named.note = {midi};
    named.in_scale = midi != 84;
    named.target_hz = equal_tempered_hz(midi, 440.0);
    named.hold.frequency_hz = named.target_hz;
    named.hold.frequency_u95_cents = 0.0123456789;
    named.hold.start_s = named.hold.steady_start_s = start_s;
    named.hold.end_s = named.hold.steady_end_s = start_s + 0.8;
    named.hold.level_db = -20.5;
    naming.holds.push_back(named);
    start_s += 1.0;
  }
  return naming;
}

}  // namespace

Measurement invented_measurement() {
  Measurement measurement;
  measurement.speed_of_sound_m_s = 346.13;
  TakeInfo take;
  take.path = "ash, \"second\".wav";
  take.sha256 = "00ff";
  take.duration_s = 62.6;
  take.sample_rate_hz = 48000;
  take.channels = 2;
  take.channel_used = 1;
  measurement.takes = {take};
  measurement.naming = invented_naming();
  BreathResult& breath = measurement.breath;
  breath.notes = {full_note(74, {3.62, 0.2}, {7.91, 0.2}, {11.24, 0.2}),
                  full_note(78, {-8.4, 1.4}, {4.21, 0.2}, {12.2, 0.2}),
                  full_note(81, {-1.21, 0.2}, {14.63, 0.2}, {27.91, 0.2}), one_strength_note(83, {22.4, 0.3})};
  for (int note = 0; note < 3; ++note) {
    breath.blow.insert(breath.blow.end(), {Blow::soft, Blow::moderate, Blow::hard});
  }
  breath.blow.insert(breath.blow.end(), {std::nullopt, std::nullopt});
  breath.used.assign(10, true);
  breath.used.push_back(false);
  breath.correction_cents.assign(11, 0.0);
  measurement.compromise = invented_compromise();
  measurement.warnings = {{WarningCode::not_in_scale, "C6 (1 hold) is not in the scale of a whistle in D from D5"},
                          {WarningCode::spread_not_measured,
                           "B5 was blown at one strength only: its spread is not known. Blow it soft, moderate and "
                           "hard and record again"}};
  return measurement;
}

Measurement with_notes(Measurement measurement, const std::vector<std::size_t>& kept) {
  std::vector<NoteBreath> notes;
  std::vector<MovedNote> moved;
  for (const std::size_t note : kept) {
    notes.push_back(measurement.breath.notes[note]);
    if (measurement.compromise) moved.push_back(measurement.compromise->notes[note]);
  }
  measurement.breath.notes = notes;
  if (measurement.compromise) measurement.compromise->notes = moved;
  return measurement;
}

}  // namespace windway::report_tests
