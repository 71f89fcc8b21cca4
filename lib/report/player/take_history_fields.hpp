// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

#include "compare/take_history.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"

namespace windway {

// The fields of the history of one flute, schema windway.take_history.v1, in the order in which they are written.

/// The move of a take: absent where it does not say where the head belongs.
const Compromise* told_move(const Measurement& measurement);

template <typename Visit>
void visit_flute_result(const FluteResult& take, Visit&& visit) {
  const Measurement& measurement = take.measurement;
  const Compromise* move = told_move(measurement);
  const auto of_move = [&](auto part) { return move ? std::optional(part(*move)) : std::nullopt; };
  visit(Field{"path", "The result or recording, as it was given.", in_csv}, take.name);
  visit(Field{"recorded_at", "When it was recorded, ISO 8601, as far as it says; null: it says nothing.", in_csv},
        recorded_at(measurement));
  visit(Field{"a4_hz", "Reference pitch that its cents follow, Hz.", above_0 | in_csv},
        measurement.settings.tuning.a4_hz);
  visit(Field{"air_c", "Temperature of the bore that its notes are given for, degrees Celsius.", in_csv},
        quoted_air(measurement.settings).temperature_c);
  visit(Field{"head_out_mm", "How far out the head was while recording, mm; null: not known.", at_least_0 | in_csv},
        measurement.settings.head.out_mm);
  visit(Field{"home_a4_hz",
              "The A4 at which it is at home without the move, Hz; null: the take does not say where the head belongs.",
              above_0 | in_csv},
        of_move([](const Compromise& known) { return known.home_a4_hz; }));
  visit(Field{"slide_mm", "The move that the take gave, mm, + draws out; null likewise.", in_csv},
        of_move([](const Compromise& known) { return known.slide_mm; }));
  visit(
      Field{"slide_u95_mm", "Its u95, mm, of the notes and of the law of cents per mm together.", at_least_0 | in_csv},
      of_move([](const Compromise& known) { return slide_u95_mm(known); }));
  visit(Field{"limit", "", in_csv, "limit"}, move ? move->limit : std::nullopt);
}

template <typename Visit>
void visit_stepped_note(const std::optional<SteppedNote>& note, Visit&& visit) {
  const auto if_any = [&](auto part) { return note ? std::optional(part(*note)) : std::nullopt; };
  visit(Field{"change_cents",
              "Change of the moderate pitch from the take before, cents; moves of the head and temperatures that were "
              "said are allowed for.",
              in_csv},
        "change_u95_cents", if_any([](const SteppedNote& known) { return known.change; }));
  visit(Field{"is_real", "More than its u95.", in_csv}, if_any([](const SteppedNote& known) { return known.is_real; }));
  visit(Field{"apart_cents", "The same less the change of all notes together, cents.", in_csv}, "apart_u95_cents",
        if_any([](const SteppedNote& known) { return known.apart; }));
  visit(Field{"is_apart", "More than what chance shows on any of the notes, 19 times in 20.", in_csv},
        if_any([](const SteppedNote& known) { return known.is_apart; }));
}

template <typename Visit>
void visit_take_step(const TakeStep& step, Visit&& visit) {
  visit(Field{"before", "Index into `takes`.", at_least_0}, static_cast<int>(step.before));
  visit(Field{"after", "Index into `takes`.", at_least_0}, static_cast<int>(step.after));
  visit(
      Field{"drawn_out_mm",
            "What the head was moved between them, mm, + out; null: not known of both, and its move is in the change."},
      step.drawn_out_mm);
  visit(Field{"together_cents", "Mean change, all notes alike, cents."}, "together_u95_cents", step.together);
  visit(Field{"notes", "The notes that are in both takes, ascending.", at_least_1},
        Nested{step.notes, [](const SteppedNote& note, auto&& each) {
                 visit_note_id(spelt_for_programs(note.note.midi), note.note, each);
                 visit_stepped_note(note, each);
               }});
}

template <typename Visit>
void visit_take_history(const TakeHistory& history, Visit&& visit) {
  visit(
      Field{"is_by_time",
            "The takes stand in order of the time of recording; false: as they were given, for not all say it, or not "
            "well enough."},
      history.is_by_time);
  visit(Field{"takes", "All takes in order.", at_least_1},
        Nested{history.takes, [](const FluteResult& take, auto&& each) { visit_flute_result(take, each); }});
  visit(Field{"steps", "From each take to the next."},
        Nested{history.steps, [](const TakeStep& step, auto&& each) { visit_take_step(step, each); }});
  visit(
      Field{
          "agreement",
          "How well the takes agree, as far as nothing was changed on the flute; null: no two takes share two notes."},
      Nested{history.agreement, [](const DayAgreement& known, auto&& each) {
               each(Field{"note_sd_cents", "SD of one note of one take from what all notes did together, cents.",
                          at_least_0},
                    known.note_sd_cents);
               each(Field{"note_u95_cents", "u95 of a note of one take without the common change, cents.", at_least_0},
                    known.note_u95_cents);
               each(Field{"together_sd_cents", "SD of what all notes of one take have in common, cents.", at_least_0},
                    known.together_sd_cents);
             }});
}

}  // namespace windway
