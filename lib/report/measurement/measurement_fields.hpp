// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"
#include "report/measurement/field.hpp"

namespace windway {

// The fields of a measurement, described once and in the order in which they are written. Who writes, reads or
// describes a record visits its list: `visit(field, value)`, or `visit(field, field of the u95, estimate)`. Values are
// double, int, bool, text, a choice (wording/fields.hpp), any of them optional, or a share written in percent. A record
// may be const, for writers.

template <typename Take, typename Visit>
void visit_take(Take&& take, Visit&& visit) {
  visit(Field{.key = "path", .meaning = "As it was given; \"-\": standard input.", .in_line = true}, take.path);
  visit(Field{.key = "sha256",
              .meaning = "SHA-256 of the whole file, lower-case hexadecimal; null: the file could not be read.",
              .pattern = "^[0-9a-f]{64}$",
              .may_be_null = true,
              .in_line = true},
        take.sha256);
  visit(Field{.key = "recorded_at",
              .meaning = "When it was recorded, as far as the file's own metadata say it: year, month, day or time "
                         "too, ISO 8601; null: it says nothing.",
              .pattern = "^[0-9]{4}(-[0-9]{2}(-[0-9]{2}(T[0-9]{2}:[0-9]{2}(:[0-9]{2})?Z?)?)?)?$",
              .in_line = true},
        take.recorded_at);
  visit(Field{.key = "duration_s",
              .meaning = "Length, s; null: the take could not be measured.",
              .least = 0,
              .may_be_null = true},
        take.duration_s);
  visit(Field{.key = "sample_rate_hz",
              .meaning = "Samples a second; null: the take could not be measured.",
              .above = 0,
              .may_be_null = true},
        take.sample_rate_hz);
  visit(Field{.key = "channels",
              .meaning = "Number of channels; null: the take could not be measured.",
              .least = 1,
              .may_be_null = true},
        take.channels);
  visit(Field{.key = "channel_used",
              .meaning = "The channel that was measured, counted from 0; null: the take could not be measured.",
              .least = 0,
              .may_be_null = true},
        take.channel_used);
}

/// Of the settings what is written before the temperament.
template <typename Settings, typename Visit>
void visit_reference(Settings&& settings, Visit&& visit) {
  visit(Field{.key = "a4_hz",
              .meaning = "Reference pitch that the targets follow, Hz.",
              .above = 0,
              .must_be_there = true,
              .in_csv = true,
              .in_line = true},
        settings.tuning.a4_hz);
  visit(Field{.key = "a4_u95_hz", .meaning = "Where a recorded partner told A4: its u95, Hz; else null.", .least = 0},
        settings.a4_u95_hz);
}

/// Of the settings what is written between the temperament and the instrument.
template <typename Settings, typename Speed, typename Visit>
void visit_conditions(Settings&& settings, Speed&& speed_of_sound_m_s, Visit&& visit) {
  visit(Field{.key = "bore_temp_c",
              .meaning = "Temperature of the air in the blown bore, degrees Celsius.",
              .in_line = true},
        settings.air.temperature_c);
  visit(Field{.key = "humidity_percent", .meaning = "Relative humidity of that air, percent.", .least = 0, .most = 100},
        in_percent(settings.air.relative_humidity));
  visit(Field{.key = "co2_percent", .meaning = "Carbon dioxide in it, percent.", .least = 0, .most = 100},
        in_percent(settings.air.co2_fraction));
  visit(Field{.key = "quote_at_c",
              .meaning = "The notes are given as they would be with the bore at this temperature, degrees Celsius; "
                         "null: as recorded.",
              .in_line = true},
        settings.quote_at_c);
  visit(Field{.key = "speed_of_sound_m_s",
              .meaning = "Speed of sound in the bore at the temperature that the notes are given for, m/s; null or 0: "
                         "the take could not be measured.",
              .least = 0},
        speed_of_sound_m_s);
  visit(Field{.key = "head_out_mm",
              .meaning = "How far the head was drawn out of fully in while recording, mm; null: not known.",
              .least = 0,
              .in_line = true},
        settings.head.out_mm);
  visit(Field{.key = "travel_mm", .meaning = "How far out it can go at most, mm; null: not known.", .least = 0},
        settings.head.travel_mm);
  visit(Field{.key = "head_moves", .meaning = "false: the head is fixed, and only the breath is left."},
        settings.head.moves);
  visit(Field{.key = "slide_factor",
              .meaning = "Measured over predicted change of pitch with the head's place, as calibrated on this "
                         "instrument; null: not calibrated.",
              .above = 0},
        Field{.key = "slide_factor_u95", .meaning = "Its u95; null with it.", .least = 0}, settings.head.factor);
  visit(Field{.key = "min_hold_s", .meaning = "Shortest held note that counts, s.", .above = 0},
        settings.hold_rules.min_hold_s);
  visit(Field{.key = "note_names",
              .meaning = "How sentences spell notes; this file always spells them with letters and sharps.",
              .in_line = true},
        settings.note_names);
}

/// All but steady_blow and check_note, which follow.
template <typename Move, typename Visit>
void visit_compromise(Move&& compromise, Visit&& visit) {
  visit(Field{.key = "slide_mm",
              .meaning = "How far to move the head, mm, + draws out, lengthens, flattens.",
              .must_be_there = true,
              .in_csv = true,
              .in_line = true},
        compromise.slide_mm);
  visit(Field{.key = "slide_u95_mm",
              .meaning = "Its u95, mm, from the notes; one-sided at a limit of the travel.",
              .least = 0,
              .in_csv = true,
              .in_line = true},
        compromise.slide_u95_mm);
  visit(
      Field{.key = "slide_model_u95_mm",
            .meaning = "u95 of the law of cents per mm itself, mm: 5 % of the move until the instrument is calibrated.",
            .least = 0,
            .in_csv = true,
            .in_line = true},
      compromise.slide_model_u95_mm);
  visit(Field{.key = "shift_cents",
              .meaning = "Weighted mean change of the pitch that the move makes, cents.",
              .in_csv = true},
        compromise.shift_cents);
  visit(Field{.key = "shift_u95_cents", .meaning = "Its u95, cents.", .least = 0, .in_csv = true},
        compromise.shift_u95_cents);
  visit(Field{.key = "limit", .definition = "limit", .in_csv = true}, compromise.limit);
  visit(Field{.key = "cost_before",
              .meaning = "Mean cost to the breath as it stands: effort squared up to 2, beyond it 2 (2 effort - 2).",
              .least = 0},
        compromise.cost_before);
  visit(Field{.key = "cost_after", .meaning = "The same after the move.", .least = 0}, compromise.cost_after);
  visit(Field{.key = "home_a4_hz",
              .meaning = "The A4 at which it is at home as it stands, Hz.",
              .above = 0,
              .in_csv = true,
              .in_line = true},
        compromise.home_a4_hz);
  visit(Field{.key = "lowest_a4_hz",
              .meaning =
                  "The same with the head drawn out as far as it goes, Hz; null: its place or its travel is not known.",
              .above = 0},
        compromise.lowest_a4_hz);
  visit(Field{.key = "highest_a4_hz", .meaning = "The same fully in, Hz; null: its place is not known.", .above = 0},
        compromise.highest_a4_hz);
}

template <typename SteadyChange, typename Visit>
void visit_steady_blow(SteadyChange&& blow, Visit&& visit) {
  visit(Field{.key = "louder_db", .meaning = "How much louder, dB; negative: softer."}, blow.louder_db);
  visit(
      Field{
          .key = "way_share", .meaning = "Share of the way from moderate to hard, or to soft.", .least = 0, .most = 1},
      blow.way_share);
  visit(Field{.key = "shift_cents", .meaning = "Mean change of the pitch, cents."}, blow.shift_cents);
  visit(Field{.key = "cost_after", .meaning = "Mean cost to the breath with it.", .least = 0}, blow.cost_after);
}

template <typename Rise, typename Warming, typename Visit>
void visit_drift(Rise&& drift, Warming&& as_warming_c, Visit&& visit) {
  visit(Field{.key = "over_take_cents", .meaning = "From the first hold to the last, cents."}, drift.over_take_cents);
  visit(Field{.key = "over_take_u95_cents", .meaning = "Its u95, cents.", .least = 0}, drift.over_take_u95_cents);
  visit(Field{.key = "as_warming_c", .meaning = "The same as warming of the bore, degrees Celsius."}, as_warming_c);
  visit(Field{.key = "reference_time_s",
              .meaning = "The notes are given as at this time of the take, s; null: nothing was corrected.",
              .least = 0},
        drift.reference_time_s);
}

}  // namespace windway
