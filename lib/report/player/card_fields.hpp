// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "card/head_card.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"

namespace windway {

// The fields of a card for the flute's case, schema windway.card.v1, in the order in which they are written.

/// The take that a card rests on.
template <typename Visit>
void visit_card_basis(const Measurement& measurement, Visit&& visit) {
  const MeasureSettings& settings = measurement.settings;
  visit(Field{"takes", "The takes that the flute was measured from.", at_least_1},
        Nested{measurement.takes, [](const TakeInfo& take, auto&& each) { visit_take(take, each); }});
  visit(Field{"measured_a4_hz", "Reference pitch that the take was measured against, Hz.", above_0},
        settings.tuning.a4_hz);
  visit(Field{"measured_bore_temp_c", "Temperature given for the air in the bore at the take, degrees Celsius."},
        settings.air.temperature_c);
  visit(Field{"measured_head_out_mm",
              "How far the head was drawn out of fully in at the take, mm; null: not known, and the card has moves "
              "from there only.",
              at_least_0},
        settings.head.out_mm);
  visit(Field{"travel_mm", "How far out it can go at most, mm; null: not known, and nothing stops it.", at_least_0},
        settings.head.travel_mm);
}

template <typename Visit>
void visit_card_a4(double a4_hz, Visit&& visit) {
  visit(Field{"a4_hz", "Reference pitch, Hz.", above_0 | in_csv}, a4_hz);
}

/// `name`: the check note's.
template <typename Visit>
void visit_card_cell(const CardCell& cell, const NoteId& check_note, const std::string& name, Visit&& visit) {
  const auto check = [&](auto value) { return cell.check ? std::optional(value) : std::nullopt; };
  visit(Field{"bore_temp_c", "Temperature of the air in the bore, degrees Celsius.", in_csv}, cell.bore_temp_c);
  visit(Field{"slide_mm",
              "How far to move the head from where it was at the take, mm, + draws out; null: the scale is too far off "
              "this A4 for a move.",
              in_csv},
        cell.slide_mm);
  visit(
      Field{"slide_u95_mm", "Its u95, mm, of the notes and of the law of cents per mm together.", at_least_0 | in_csv},
      cell.slide_u95_mm);
  visit(Field{"head_out_mm", "How far out of fully in the head then is, mm; null: not known where it was.",
              at_least_0 | in_csv},
        cell.head_out_mm);
  visit(Field{"limit",
              "The end of travel where the head stops, as the best place is beyond it; null: it is within reach.",
              in_csv, "limit"},
        cell.limit);
  visit(Field{"check_note", "The note to set the head by; null with slide_mm.", in_csv, "note_name"}, check(name));
  visit(Field{"check_midi", "", in_csv, "midi"}, check(check_note.midi));
  visit(Field{"check_fingering", "", nullable, "fingering"}, cell.check ? check_note.fingering : "");
  visit(Field{"check_cents", "What it should then read, blown moderately, cents from the target.", in_csv},
        "check_u95_cents", cell.check);
}

template <typename Visit>
void visit_card(const HeadCard& card, const Measurement& measurement, const InstrumentWords& instrument,
                Visit&& visit) {
  visit(Field{"instrument", "The flute."},
        Nested{instrument, [](const InstrumentWords& words, auto&& each) { visit_whole_instrument(words, each); }});
  visit_card_basis(measurement, visit);
  visit(
      Field{"mm_per_degree",
            "How much farther out the head belongs for each degree that the bore is warmer, mm; null: no two cells of "
            "a row are reached."},
      card.mm_per_degree);
  visit(Field{"rows", "A row for each reference pitch, ascending.", at_least_1},
        Nested{card.rows, [&card](const CardRow& row, auto&& each) {
                 visit_card_a4(row.a4_hz, each);
                 each(Field{"cells", "One for each temperature, ascending.", at_least_1},
                      Nested{row.cells, [&card](const CardCell& cell, auto&& inner) {
                               visit_card_cell(cell, card.check_note, spelt_for_programs(card.check_note.midi), inner);
                             }});
               }});
  visit_warnings(measurement.warnings, visit);
}

}  // namespace windway
