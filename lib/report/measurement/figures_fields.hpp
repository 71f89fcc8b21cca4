// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/measurement/note_fields.hpp"
#include "report/measurement/pictured.hpp"

namespace windway {

// What the figures draw beside what stands in holds and notes, as measurement_fields.hpp has the fields of the rest.

/// The mean of a note's holds of one blow.
struct BlowReading {
  double level_db = 0;
  double cents = 0;  ///< as the note is given
};

/// Empty where none of the note's holds that count was blown so.
std::optional<BlowReading> mean_of_blow(const Measurement& measurement, const NoteId& note, Blow blow);

/// The levels that a note was blown at, dB full scale; absent where no hold that counts was blown so.
struct BlowLevels {
  std::optional<double> soft_db, moderate_db, hard_db;
};
BlowLevels blow_levels(const Measurement& measurement, const NoteId& note);

template <typename Name, typename Visit>
void visit_pictured(const PicturedNote& note, Name&& name, const BlowLevels& levels, bool head_moves, Visit&& visit) {
  const auto place = [&](double mm) { return head_moves ? std::optional(mm) : std::nullopt; };
  NoteId id = note.read != nullptr ? note.read->id : NoteId{};
  visit_note_id(name, id, visit);
  visit(Field{"reach_soft_cents",
              "How far the breath can lower it, cents: as measured, else as the compromise assumes.", at_least_0},
        note.found.reach_soft_cents);
  visit(Field{"reach_hard_cents", "How far the breath can raise it, likewise.", at_least_0},
        note.found.reach_hard_cents);
  visit(Field{"reach_is_assumed",
              "Its own reach was not measured: it is the median of the other notes, or 5 cents where none was."},
        note.is_assumed);
  visit(Field{"true_soft_mm",
              "Where the head makes it true blown soft, mm drawn out (+) from where the notes are given for; null: the "
              "head does not move."},
        place(note.true_mm.soft_mm));
  visit(Field{"true_moderate_mm", "The same blown moderately."}, place(note.true_mm.moderate_mm));
  visit(Field{"true_hard_mm", "The same blown hard."}, place(note.true_mm.hard_mm));
  visit(Field{"level_soft_db", "Mean level of its soft holds, dB full scale; null: none counts."}, levels.soft_db);
  visit(Field{"level_moderate_db", "The same of its moderate holds."}, levels.moderate_db);
  visit(Field{"level_hard_db", "The same of its hard holds."}, levels.hard_db);
}

template <typename Stretch, typename Visit>
void visit_left_out(Stretch&& stretch, Visit&& visit) {
  visit(Field{"take", "Which of `takes` it stands in, counted from 0.", at_least_0}, stretch.take);
  visit(Field{"start_s", "Start in the take, s.", at_least_0}, stretch.start_s);
  visit(Field{"end_s", "End, s.", at_least_0}, stretch.end_s);
  visit(Field{"why",
              "too_short (of steady pitch), too_high (for any duct flute), roaming (farther than breath bends a note), "
              "out_of_range (of the instrument), too_faint (against the take's other notes)."},
        stretch.why);
}

/// The loudness of a take, for those who asked for curves.
template <typename Take, typename Loudness, typename Levels, typename Visit>
void visit_loudness(Take&& take, Loudness&& loudness, Levels&& level_db, Visit&& visit) {
  visit(Field{"take", "Which of `takes`, counted from 0.", at_least_0}, take);
  visit(Field{"first_s", "Time of the first point, s.", at_least_0}, loudness.first_s);
  visit(Field{"hop_s", "From point to point, s.", above_0}, loudness.hop_s);
  visit(Field{"level_db", "Power from 75 Hz up, a point each hop, dB full scale."}, level_db);
}

/// The pitch within the steady part of a hold, for those who asked for curves.
template <typename Visit>
void visit_hold_curve(int hold, const std::vector<double>& time_s, const std::vector<double>& cents, Visit&& visit) {
  visit(Field{"hold", "Which of `holds`, counted from 0.", at_least_0}, hold);
  visit(Field{"time_s", "Times in its take, s."}, time_s);
  visit(Field{"deviation_cents", "Pitch at each of them against the note's target, cents."}, cents);
}

}  // namespace windway
