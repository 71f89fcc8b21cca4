// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "report/measurement/note_fields.hpp"
#include "report/record/field.hpp"
#include "report/wording/spelling.hpp"
#include "slide/head_check.hpp"

namespace windway {

// The fields of a check of the head, in the order in which they are written.

template <typename Visit>
void visit_check(const HeadCheck& check, double slide_mm, Visit&& visit) {
  visit(Field{"is_set",
              "The head stands where the earlier take said, as far as a player can set it or these notes can show."},
        check.is_set);
  visit(Field{"rest_mm", "Rest of the move by all notes together, mm, + draws out."}, check.rest_mm);
  visit(Field{"rest_u95_mm", "Its u95, mm.", at_least_0}, check.rest_u95_mm);
  visit(Field{"off_cents", "Weighted mean of what the notes read less what they should read, cents."}, check.off_cents);
  visit(Field{"off_u95_cents", "Its u95, cents.", at_least_0}, check.off_u95_cents);
  visit(Field{"notes_disagree", "They disagree by far more than they are unsure: another flute, or other blowing."},
        check.notes_disagree);
  visit(Field{"went_the_other_way", "The pitch moved away from where it should go."}, check.went_the_other_way);
  visit(Field{"limit", "What stops the head on the way; null: nothing does.", {}, "limit"}, check.limit);
  visit(Field{"slide_mm", "The move that the earlier take gave, mm, + draws out."}, slide_mm);
  visit(Field{"notes", "The notes of the earlier take that were heard again, ascending.", at_least_1},
        Nested{check.notes, [](const CheckedNote& note, auto&& each) {
                 visit_note_id(spelt_for_programs(note.id.midi), note.id, each);
                 each(Field{"before_cents", "What it read before the move, cents from the target, at moderate breath."},
                      note.before_cents);
                 each(Field{"reads_cents", "What it reads now, likewise."}, note.reads.cents);
                 each(Field{"reads_u95_cents", "Its u95, cents, with how well the player repeats a moderate blow.",
                            at_least_0},
                      note.reads.u95_cents);
                 each(Field{"should_cents", "What it should read, cents from the target."}, note.should_cents);
                 each(Field{"rest_mm", "Rest of the move by this note alone, mm, + draws out."}, note.rest_mm);
                 each(Field{"rest_u95_mm", "Its u95, mm.", at_least_0}, note.rest_u95_mm);
               }});
  visit(
      Field{"unexpected", "Notes that were left out because they read nearer to another note."},
      Nested{
          check.unexpected, [](const UnexpectedNote& note, auto&& each) {
            visit_note_id(spelt_for_programs(note.id.midi), note.id, each);
            each(Field{"heard_midi", "The note that was heard in its place."}, note.heard_midi);
            each(Field{"off_cents", "From the nearer of what it read before and what it should read."}, note.off_cents);
          }});
}

}  // namespace windway
