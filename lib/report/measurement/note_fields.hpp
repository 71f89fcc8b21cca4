// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "measurement.hpp"
#include "report/measurement/field.hpp"

namespace windway {

// The fields of holds and notes, as measurement_fields.hpp has those of the rest.

/// What a note is called in a record.
struct NoteWords {
  std::string note;
  std::optional<std::string> fingering;  ///< absent: the usual one
};

/// What of a hold's record is not the hold's own.
struct HoldWords {
  std::string note;
  std::optional<std::string> fingering;
  std::optional<Blow> blow;
  bool used = false;
};

// Why a hold is not used.
inline constexpr auto not_in_scale = "not in this scale";
inline constexpr auto how_hard_is_not_known = "how hard it was blown is not known";

/// All but why_not, which follows.
template <typename Named, typename Words, typename Visit>
void visit_hold(Named&& named, Words&& words, Visit&& visit) {
  auto& hold = named.hold;
  visit(Field{.key = "take", .meaning = "Which of `takes` it stands in, counted from 0.", .least = 0}, hold.take);
  visit(Field{.key = "note",
              .meaning = "Its note; outside the scale the nearest chromatic one.",
              .definition = "note_name"},
        words.note);
  visit(Field{.key = "midi", .definition = "midi", .must_be_there = true}, named.note.midi);
  visit(Field{.key = "fingering", .definition = "fingering"}, words.fingering);
  visit(Field{.key = "blow",
              .meaning = "How hard it was blown; swell: from soft to hard in one breath. null: not judged, the only "
                         "strength, or of five strengths one beside the moderate."},
        words.blow);
  visit(Field{.key = "start_s", .meaning = "Start in the take, s.", .least = 0}, hold.start_s);
  visit(Field{.key = "end_s", .meaning = "End, s.", .least = 0}, hold.end_s);
  visit(Field{.key = "steady_start_s", .meaning = "Start of the part without attack, s.", .least = 0},
        hold.steady_start_s);
  visit(Field{.key = "steady_end_s", .meaning = "End of the part without release, s.", .least = 0}, hold.steady_end_s);
  visit(Field{.key = "frequency_hz", .meaning = "Mean over the steady part, taken in cents, Hz.", .above = 0},
        hold.frequency_hz);
  visit(Field{.key = "frequency_u95_cents",
              .meaning = "u95 of that mean, cents: noise, the room and the part's ends, not the player.",
              .least = 0},
        hold.frequency_u95_cents);
  visit(Field{.key = "deviation_cents", .meaning = "Frequency against the note's target, cents, + sharp."},
        named.deviation_cents);
  visit(Field{.key = "wander_cents",
              .meaning = "SD of the pitch over the steady part, cents: the player's steadiness, or a swell.",
              .least = 0},
        hold.wander_cents);
  visit(Field{.key = "level_db",
              .meaning = "RMS level of the tone over the steady part, all its harmonics together, dB full scale."},
        hold.level_db);
  visit(Field{.key = "register_break", .meaning = "A short break into another register, a cut or a tap was left out."},
        hold.register_break);
  visit(Field{.key = "used", .meaning = "It counts in its note."}, words.used);
}

/// Which note it is and what it should be.
template <typename Note, typename Words, typename Visit>
void visit_note_itself(Note&& note, Words&& words, Visit&& visit) {
  visit(Field{.key = "note", .definition = "note_name", .in_csv = true}, words.note);
  visit(Field{.key = "midi", .definition = "midi", .must_be_there = true, .in_csv = true, .in_line = true},
        note.id.midi);
  visit(Field{.key = "fingering", .definition = "fingering", .in_line = true}, words.fingering);
  visit(Field{.key = "weight", .meaning = "What it counts for in the compromise.", .least = 0, .in_line = true},
        note.weight);
  visit(Field{.key = "register",
              .meaning = "Register: which mode of the bore sounds.",
              .least = 1,
              .must_be_there = true,
              .in_csv = true,
              .in_line = true},
        note.register_number);
  visit(Field{.key = "target_hz",
              .meaning = "The frequency that it should have, Hz.",
              .above = 0,
              .must_be_there = true,
              .in_csv = true},
        note.target_hz);
  visit(Field{.key = "holds", .meaning = "How many holds it was measured from.", .least = 1, .in_csv = true},
        note.holds);
}

/// How it answers the breath.
template <typename Note, typename Visit>
void visit_response(Note&& note, Visit&& visit) {
  visit(Field{.key = "soft_cents",
              .meaning = "Pitch blown soft, cents from the target; null: not measured.",
              .in_csv = true},
        Field{.key = "soft_u95_cents", .meaning = "Its u95, cents; null with it.", .least = 0, .in_csv = true},
        note.soft);
  visit(Field{.key = "moderate_cents",
              .meaning = "Pitch blown moderately, cents from the target; of a note blown at one strength only, as it "
                         "was blown or as the other notes suggest.",
              .must_be_there = true,
              .in_csv = true,
              .in_line = true},
        Field{.key = "moderate_u95_cents", .meaning = "Its u95, cents.", .least = 0, .in_csv = true, .in_line = true},
        note.moderate);
  visit(Field{.key = "moderate_is_midway",
              .meaning = "Two blows only: moderate is midway between soft and hard.",
              .in_csv = true},
        note.moderate_is_midway);
  visit(Field{.key = "hard_cents",
              .meaning = "Pitch blown hard, cents from the target; null: not measured.",
              .in_csv = true},
        Field{.key = "hard_u95_cents", .meaning = "Its u95, cents; null with it.", .least = 0, .in_csv = true},
        note.hard);
  visit(Field{.key = "spread_cents",
              .meaning = "Hard less soft, cents; null: not measured, or no more than its u95.",
              .least = 0,
              .in_csv = true,
              .in_line = true},
        Field{.key = "spread_u95_cents",
              .meaning = "Its u95, cents; null with it.",
              .least = 0,
              .in_csv = true,
              .in_line = true},
        note.spread);
  visit(Field{.key = "cents_per_db",
              .meaning = "Bend of the pitch with the level of the tone, cents per dB; null: not measured.",
              .in_csv = true},
        Field{.key = "cents_per_db_u95", .meaning = "Its u95, cents per dB; null with it.", .least = 0, .in_csv = true},
        note.cents_per_db);
  visit(Field{.key = "level_range_db", .meaning = "Level hard less soft, dB; null: not measured.", .in_csv = true},
        note.level_range_db);
  visit(Field{.key = "reach_soft_cents",
              .meaning = "How far the breath can lower it from moderate, cents, at the take's median soft strength; "
                         "null where the spread is not measured.",
              .least = 0,
              .in_csv = true},
        note.reach_soft_cents);
  visit(Field{.key = "reach_hard_cents",
              .meaning = "How far the breath can raise it, likewise.",
              .least = 0,
              .in_csv = true},
        note.reach_hard_cents);
}

/// All but what the move says of it, which follows.
template <typename Note, typename Words, typename Visit>
void visit_note(Note&& note, Words&& words, Visit&& visit) {
  visit_note_itself(note, words, visit);
  visit_response(note, visit);
}

/// The air column of a note, which is known where a move was computed.
template <typename Moved, typename Visit>
void visit_air_column(Moved&& moved, Visit&& visit) {
  visit(Field{.key = "effective_length_mm",
              .meaning = "Length of its air column, register times speed of sound over twice the frequency, mm; null: "
                         "no move was computed.",
              .above = 0,
              .may_be_null = true,
              .in_csv = true,
              .in_line = true},
        moved.effective_length_mm);
  visit(Field{.key = "cents_per_mm",
              .meaning = "How much a mm of drawing out lowers it, cents per mm, positive; null: no move was computed.",
              .above = 0,
              .may_be_null = true,
              .in_csv = true},
        moved.cents_per_mm);
}

template <typename Moved, typename Visit>
void visit_moved(Moved&& moved, Visit&& visit) {
  visit(Field{.key = "cents",
              .meaning = "What is left at moderate breath, cents from the target.",
              .must_be_there = true,
              .in_csv = true,
              .in_line = true},
        moved.cents);
  visit(Field{.key = "u95_cents", .meaning = "Its u95, cents.", .least = 0, .in_csv = true, .in_line = true},
        moved.u95_cents);
  visit(Field{.key = "effort",
              .meaning = "What is left over the reach that can make it good; 1 is all of the reach.",
              .least = 0,
              .in_csv = true},
        moved.effort);
  visit(
      Field{.key = "breath",
            .meaning = "What the breath must do: as_it_is (nothing), softer, harder, out_of_reach (more than it can).",
            .in_csv = true},
      moved.breath);
  visit(Field{.key = "breath_share",
              .meaning = "The same as a share of the player's own way from moderate to soft or hard; null: as it is, "
                         "or the reach is not measured.",
              .least = 0,
              .in_csv = true},
        moved.breath_share);
  visit(Field{.key = "breath_db",
              .meaning = "The same in dB, + louder; null: as it is, or the note's answer is not measured.",
              .in_csv = true},
        moved.breath_db);
  visit(Field{.key = "beats_hz",
              .meaning = "Beats a second against a steady tone on the target, at moderate breath.",
              .least = 0,
              .in_csv = true},
        moved.beats_hz);
}

template <typename Check, typename Words, typename Visit>
void visit_check_note(Check&& check, Words&& words, Visit&& visit) {
  visit(Field{.key = "note", .definition = "note_name", .must_be_there = true}, words.note);
  visit(Field{.key = "fingering", .definition = "fingering"}, words.fingering);
  visit(
      Field{.key = "cents", .meaning = "What it should read after the move, blown moderately, cents from the target."},
      check.cents);
  visit(Field{.key = "u95_mm", .meaning = "How surely it sets the head: u95, mm.", .least = 0}, check.u95_mm);
}

}  // namespace windway
