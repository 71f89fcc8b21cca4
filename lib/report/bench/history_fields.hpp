// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/history.hpp"
#include "report/measurement/note_fields.hpp"

namespace windway {

// The fields of an instrument's history, schema windway.history.v1, in the order in which they are written.

template <typename Visit>
void visit_history_take(const BenchEntry& take, Visit&& visit) {
  visit(Field{"path"}, take.path);
  visit(Field{"stage"}, take.subject.stage);
  visit(Field{"retake"}, take.subject.retake);
  visit(Field{"recorded_at"}, take.recorded_at);
  visit(Field{"remark"}, take.subject.remark);
  visit(Field{"counts"}, take.counting.counts);
  visit(Field{"verdict"}, take.result);
  visit(Field{"error", "", nullable}, take.error);
  visit(Field{"home_a4_hz", "", at_least_0}, take.home_a4_hz);
  visit(Field{"head_out_mm", "While recording; null: not known.", at_least_0}, take.head_out_mm);
  visit(Field{"head_rests_mm", "With the head at its best place; null: not known."}, take.head_rests_mm);
  visit(Field{"evenness_cents", "RMS of the notes' residuals there.", at_least_0}, take.evenness_cents);
}

template <typename Visit>
void visit_history_step(const HistoryStep& step, Visit&& visit) {
  visit(Field{"before", "Index into `takes`.", at_least_0}, step.before);
  visit(Field{"after", "Index into `takes`.", at_least_0}, step.after);
  visit(Field{"head_allowed_for", "True if the place of the head is known for both takes."}, step.head_allowed_for);
  visit(Field{"common_cents", "Median change of the notes."}, step.common_cents);
  visit(Field{"notes"},
        Nested{
            step.notes, [](const NoteStep& note, auto&& each) {
              visit_note_id(spelt_for_programs(note.note.midi), note.note, each);
              each(Field{"change_cents", "Of the moderate pitch, with the head where it was before."},
                   "change_u95_cents", note.change);
              each(Field{"is_real", "More than its u95, which holds how well the bench repeats a note."}, note.is_real);
              each(Field{"spread_change_cents", "null: not measured in both."}, "spread_change_u95_cents",
                   note.spread_change);
            }});
}

template <typename Visit>
void visit_history(const History& history, const std::optional<std::string>& serial, Visit&& visit) {
  visit(Field{"serial"}, serial);
  visit(Field{"takes"},
        Nested{history.takes, [](const BenchEntry& take, auto&& each) { visit_history_take(take, each); }});
  visit(Field{"repeat", "How far apart two takes of an unchanged flute are, 95 %; null: none was recorded again."},
        Nested{
            history.repeat, [](const BenchRepeat& repeat, auto&& each) {
              each(Field{"note_u95_cents", "Of one note compared with the others.", at_least_0}, repeat.note_u95_cents);
              each(Field{"whole_u95_cents", "Of the whole flute.", at_least_0}, repeat.whole_u95_cents);
            }});
  visit(Field{"steps"},
        Nested{history.steps, [](const HistoryStep& step, auto&& each) { visit_history_step(step, each); }});
}

}  // namespace windway
