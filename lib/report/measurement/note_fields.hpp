// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "measurement.hpp"
#include "report/record/field.hpp"
#include "report/wording/spelling.hpp"

namespace windway {

// The fields of holds and notes, as measurement_fields.hpp has those of the rest.

/// What of a hold's record is not the hold's own.
struct HoldWords {
  std::string name;
  std::optional<Blow> blow{};
  bool used = false;
  std::string why_not{};  ///< empty: it is used
  std::optional<double> at_reference_cents{};
};

/// What every record of a note begins with.
template <typename Name, typename Id, typename Visit>
void visit_note_id(Name&& name, Id&& note, Visit&& visit, const char* meaning = "") {
  visit(Field{"note", meaning, in_csv, "note_name"}, name);
  visit(Field{"midi", "", required | in_csv | in_line, "midi"}, note.midi);
  visit(Field{"fingering", "", nullable | in_line, "fingering"}, note.fingering);
}

template <typename Named, typename Words, typename Visit>
void visit_hold(Named&& named, Words&& words, Visit&& visit) {
  auto& hold = named.hold;
  visit(Field{"take", "Which of `takes` it stands in, counted from 0.", at_least_0}, hold.take);
  visit_note_id(words.name, named.note, visit, "Its note; outside the scale the nearest chromatic one.");
  visit(Field{"blow",
              "How hard it was blown; swell: from soft to hard in one breath. null: not judged, the only strength, or "
              "of five strengths one beside the moderate."},
        words.blow);
  visit(Field{"start_s", "Start in the take, s.", at_least_0}, hold.start_s);
  visit(Field{"end_s", "End, s.", at_least_0}, hold.end_s);
  visit(Field{"steady_start_s", "Start of the part without attack, s.", at_least_0}, hold.steady_start_s);
  visit(Field{"steady_end_s", "End of the part without release, s.", at_least_0}, hold.steady_end_s);
  visit(Field{"frequency_hz", "Mean over the steady part, taken in cents, Hz.", above_0}, hold.frequency_hz);
  visit(Field{"frequency_u95_cents", "u95 of that mean, cents: noise, the room and the part's ends, not the player.",
              at_least_0},
        hold.frequency_u95_cents);
  visit(Field{"deviation_cents", "Frequency from the note's target, cents, + sharp."}, named.deviation_cents);
  visit(Field{"deviation_at_reference_cents",
              "The same as its note is given: for the one place of the head, the time of the take to which a drift is "
              "corrected, and the temperature; null: saved by a version that did not say.",
              nullable},
        words.at_reference_cents);
  visit(Field{"wander_cents", "SD of the pitch over the steady part, cents: the player's steadiness, or a swell.",
              at_least_0},
        hold.wander_cents);
  visit(Field{"level_db", "RMS level of the tone over the steady part, all its harmonics together, dB full scale."},
        hold.level_db);
  visit(Field{"register_break", "A short break into another register, a cut or a tap was left out."},
        hold.register_break);
  visit(Field{"used", "It counts in its note."}, words.used);
  visit(Field{"why_not", "Why it does not; null: it does.", nullable, "why_not"}, words.why_not);
}

/// All but what the move says of it, which follows.
template <typename Note, typename Name, typename Visit>
void visit_note(Note&& note, Name&& name, Visit&& visit) {
  visit_note_id(name, note.id, visit);
  visit(Field{"weight", "What it counts for in the compromise.", at_least_0 | in_line}, note.weight);
  visit(Field{"register", "Register: which mode of the bore sounds.", at_least_1 | required | in_csv | in_line},
        note.register_number);
  visit(Field{"target_hz", "The frequency that it should have, Hz.", above_0 | required | in_csv}, note.target_hz);
  visit(Field{"holds", "How many holds it was measured from.", at_least_1 | in_csv}, note.holds);
  visit(Field{"soft_cents", "Pitch blown soft, cents from the target; null: not measured.", in_csv}, "soft_u95_cents",
        note.soft);
  visit(Field{"moderate_cents",
              "Pitch blown moderately, cents from the target; of a note blown at one strength only, as it was blown or "
              "as the other notes suggest.",
              required | in_csv | in_line},
        "moderate_u95_cents", note.moderate);
  visit(Field{"moderate_is_midway", "Two blows only: moderate is midway between soft and hard.", in_csv},
        note.moderate_is_midway);
  visit(Field{"hard_cents", "Pitch blown hard, cents from the target; null: not measured.", in_csv}, "hard_u95_cents",
        note.hard);
  visit(Field{"spread_cents", "Hard less soft, cents; null: not measured, or no more than its u95.",
              at_least_0 | in_csv | in_line},
        "spread_u95_cents", note.spread);
  visit(
      Field{"cents_per_db", "Bend of the pitch with the level of the tone, cents per dB; null: not measured.", in_csv},
      "cents_per_db_u95", note.cents_per_db);
  visit(Field{"level_range_db", "Level hard less soft, dB; null: not measured.", in_csv}, note.level_range_db);
  visit(Field{"reach_soft_cents",
              "How far the breath can lower it from moderate, cents, at the take's median soft strength; null where "
              "the spread is not measured.",
              at_least_0 | in_csv},
        note.reach_soft_cents);
  visit(Field{"reach_hard_cents", "How far the breath can raise it, likewise.", at_least_0 | in_csv},
        note.reach_hard_cents);
  visit(
      Field{"warming_u95_cents",
            "What of the spread's u95 is the flute's warming between its blows, cents, alike on all notes; null: they "
            "lie close together, or repeats show the drift.",
            at_least_0},
      note.warming_u95_cents);
  visit(Field{"stray_u95_cents",
              "How far the note's one blow may stray from moderate, cents, where nothing shows it; not in "
              "moderate_u95_cents. null: the take shows it.",
              at_least_0},
        note.stray_u95_cents);
  visit(Field{"later_warming_u95_cents",
              "What a flute that was cold at first may have risen by after the note was played, cents, on all notes at "
              "once; null: repeats show the drift, or the flute was said to be warm.",
              at_least_0},
        note.later_warming_u95_cents);
  visit(Field{"can_check",
              "True if the head may be set by it; false: a hole is half covered, or the instrument's file says so."},
        note.can_check);
}

/// The air column of a note, which is known where a move was computed.
template <typename Moved, typename Visit>
void visit_air_column(Moved&& moved, Visit&& visit) {
  visit(Field{"effective_length_mm",
              "Length of its air column, register times speed of sound over twice the frequency, mm; null: no move was "
              "computed.",
              above_0 | nullable | in_csv | in_line},
        moved.effective_length_mm);
  visit(Field{"cents_per_mm",
              "How much a mm of drawing out lowers it, cents per mm, positive; null: no move was computed.",
              above_0 | nullable | in_csv},
        moved.cents_per_mm);
}

template <typename Moved, typename Visit>
void visit_moved(Moved&& moved, Visit&& visit) {
  visit(Field{"cents", "Residual at moderate breath, cents from the target.", required | in_csv | in_line},
        moved.cents);
  visit(Field{"u95_cents", "Its u95, cents.", at_least_0 | in_csv | in_line}, moved.u95_cents);
  visit(
      Field{"effort", "Residual divided by the reach that can correct it; 1 is all of the reach.", at_least_0 | in_csv},
      moved.effort);
  visit(Field{"breath", "What the breath must do: as_it_is (nothing), softer, harder, out_of_reach (more than it can).",
              in_csv},
        moved.breath);
  visit(Field{"breath_share",
              "The same as a share of the player's own change from moderate to soft or hard; null: as it is, or the "
              "reach is not measured.",
              at_least_0 | in_csv},
        moved.breath_share);
  visit(Field{"breath_db", "The same in dB, + louder; null: as it is, or the note's answer is not measured.", in_csv},
        moved.breath_db);
  visit(Field{"beats_hz", "Beats a second with a steady tone on the target, at moderate breath.", at_least_0 | in_csv},
        moved.beats_hz);
}

template <typename Check, typename Name, typename Visit>
void visit_check_note(Check&& check, Name&& name, Visit&& visit) {
  visit(Field{"note", "", required, "note_name"}, name);
  visit(Field{"fingering", "", nullable, "fingering"}, check.id.fingering);
  visit(Field{"cents", "What it should read after the move, blown moderately, cents from the target."}, check.cents);
  visit(Field{"u95_mm", "u95 of the head's place by this note, mm.", at_least_0}, check.u95_mm);
}

}  // namespace windway
