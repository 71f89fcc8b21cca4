// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "measurement.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/record/field.hpp"

namespace windway {

// The fields of several takes together, as measurement_fields.hpp has those of the rest.

/// All but `not_following`, which follows.
template <typename Places, typename Visit>
void visit_places(Places&& places, Visit&& visit) {
  visit(Field{"out_mm", "Of each take: how far out of fully in the head stood, mm.", at_least_1}, places.out_mm);
  visit(Field{"at_mm",
              "The place of the head that all takes were converted to and that the notes are given for, mm; settings "
              "have it as head_out_mm.",
              at_least_0},
        places.at_mm);
  visit(Field{"slide_factor",
              "Measured over predicted change of pitch between these places; null: no note was held at two of them."},
        "slide_factor_u95", places.factor);
  visit(Field{"factor_taken",
              "The factor is surer than what was known of this instrument, and brought the takes together."},
        places.factor_is_telling);
  visit(Field{"rest_sd_cents", "SD of one note of one take about the law with that factor, cents.", at_least_0},
        places.rest_sd_cents);
}

/// All but `takes`, `notes` and `left_out`, which follow.
template <typename Agreement, typename Visit>
void visit_agreement(Agreement&& agreement, Visit&& visit) {
  visit(Field{"agree",
              "True if the takes differ by no more than warming up and blowing alike explain; notes that stand out are "
              "left out."},
        agreement.agree);
  visit(Field{"apart_cents", "The sharpest take less the flattest, all notes together, cents."}, "apart_u95_cents",
        agreement.apart);
  visit(Field{"note_u95_cents", "u95 of one note of one take, without what its take has in common, cents.", at_least_0},
        agreement.note_u95_cents);
  visit(Field{"pooled_u95_cents",
              "u95 of what all notes have in common, from the differences of the takes, cents; the u95 of slide and "
              "shift include it.",
              at_least_0},
        agreement.pooled_u95_cents);
  visit(Field{"notes_scatter", "Their notes differ in more ways than warmth, the head and the breath explain."},
        agreement.notes_scatter);
  visit(Field{"as_warmth", "They do not agree, and it may be a warmer or colder flute."}, agreement.as_warmth);
  visit(Field{"as_head", "They do not agree, and it may be the place of the head."}, agreement.as_head);
  visit(Field{"as_breath", "They do not agree, and it may be harder or softer blowing."}, agreement.as_breath);
}

template <typename Offset, typename Visit>
void visit_take_offset(Offset&& offset, Visit&& visit) {
  visit(Field{"take", "Which of the call's takes, counted from 0.", at_least_0}, offset.take);
  visit(Field{"above_first_cents", "How far all its notes are above those of the first take here, cents."},
        "above_first_u95_cents", offset.above_first);
  visit(Field{"as_head_out_mm", "The same difference, as a move of the head from the first take's place, mm, + out."},
        offset.head_out_mm);
  visit(
      Field{"slide_mm", "The move from settings.head_out_mm that this take alone asks for, mm; null: the takes agree."},
      offset.slide_mm);
  visit(Field{"slide_u95_mm", "Its u95 with the law's, mm.", at_least_0}, offset.slide_u95_mm);
}

template <typename Apart, typename Name, typename Visit>
void visit_note_apart(Apart&& apart, Name&& name, Visit&& visit) {
  visit_note_id(name, apart.note, visit);
  visit(Field{"take", "The take in which it stands out.", at_least_0}, apart.take);
  visit(Field{"off_cents",
              "How far the note is from the same note in the other takes, after the difference of the takes is taken "
              "off, cents."},
        "off_u95_cents", apart.off);
}

template <typename Note, typename Name, typename Visit>
void visit_note_not_following(Note&& note, Name&& name, Visit&& visit) {
  visit_note_id(name, note, visit);
}

/// Both records with all that is nested in them, for writers.
template <typename Visit>
void visit_whole_places(const HeadPlaces& places, Visit&& visit) {
  visit_places(places, visit);
  visit(Field{"not_following", "Notes that stand out from the law; the factor is of the others."},
        Nested{places.not_following, [](const NoteId& note, auto&& each) {
                 visit_note_not_following(note, spelt_for_programs(note.midi), each);
               }});
}

template <typename Visit>
void visit_whole_agreement(const TakeAgreement& agreement, Visit&& visit) {
  visit_agreement(agreement, visit);
  visit(Field{"takes", "Those compared."},
        Nested{agreement.takes, [](const TakeOffset& take, auto&& each) { visit_take_offset(take, each); }});
  visit(Field{"notes", "Notes that stand out in one take."},
        Nested{agreement.notes, [](const NoteApart& note, auto&& each) {
                 visit_note_apart(note, spelt_for_programs(note.note.midi), each);
               }});
  visit(Field{"left_out", "Takes that share no note with these."}, agreement.left_out);
}

}  // namespace windway
