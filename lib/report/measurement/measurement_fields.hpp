// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <type_traits>
#include <vector>

#include "manifest/subject.hpp"
#include "measurement.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/record/field.hpp"

namespace windway {

// The fields of a measurement, described once and in the order in which they are written. Who writes, reads or
// describes a record visits its list. A record may be const, for writers.

template <typename Take, typename Visit>
void visit_take(Take&& take, Visit&& visit) {
  visit(Field{"path", "As it was given; \"-\": standard input.", in_line}, take.path);
  visit(Field{"sha256", "SHA-256 of the whole file, lower-case hexadecimal; null: the file could not be read.",
              nullable | in_line, "", "^[0-9a-f]{64}$"},
        take.sha256);
  visit(Field{"recorded_at",
              "When it was recorded, as far as the file's own metadata say it: year, month, day or time too, ISO 8601; "
              "null: it says nothing.",
              in_line, "", "^[0-9]{4}(-[0-9]{2}(-[0-9]{2}(T[0-9]{2}:[0-9]{2}(:[0-9]{2})?Z?)?)?)?$"},
        take.recorded_at);
  visit(Field{"coding",
              "Container and codec, in the words of what decodes it; null: the take could not be measured, or an older "
              "version saved this.",
              nullable},
        take.coding);
  visit(Field{"lossy",
              "The codec leaves out or coarsens what it thinks is not heard; null: the take could not be measured, "
              "the codec may be either, or an older version saved this."},
        take.lossy);
  visit(Field{"duration_s", "Length, s; null: the take could not be measured.", at_least_0 | nullable},
        take.duration_s);
  visit(Field{"sample_rate_hz", "Samples a second; null: the take could not be measured.", above_0 | nullable},
        take.sample_rate_hz);
  visit(Field{"channels", "Number of channels; null: the take could not be measured.", at_least_1 | nullable},
        take.channels);
  visit(Field{"channel_used", "The channel that was measured, counted from 0; null: the take could not be measured.",
              at_least_0 | nullable},
        take.channel_used);
}

/// Which instrument the take is of.
template <typename Identity, typename Visit>
void visit_subject_texts(Identity&& subject, Visit&& visit) {
  for (const SubjectText& each : subject_texts)
    visit(Field{each.name, each.meaning, in_csv | in_line}, subject.*each.text);
}

/// How a temperament is written.
struct TemperamentWords {
  std::string name;
  std::optional<std::string> key;
  std::optional<std::vector<double>> cents;
};

template <typename Words, typename Visit>
void visit_temperament(Words&& temperament, Visit&& visit) {
  visit(Field{"name", "", {}, "temperament_name"}, temperament.name);
  visit(Field{"key", "Key note that the temperament is on; null: equal temperament has none.", {}, "pitch_class"},
        temperament.key);
  visit(Field{"cents",
              "Cents of the twelve semitones above the key note, the first 0; null: equal temperament.",
              {},
              "twelve_cents"},
        temperament.cents);
}

/// How an instrument is written.
struct InstrumentWords {
  std::optional<std::string> name;
  Kind kind = Kind::whistle;
  std::string lowest;
  std::vector<std::string> scale;
  bool inferred = false;
  double stretch_cents_per_octave = 0.0;
  std::vector<NoteTarget> targets;
  std::optional<Maker> maker;
};

InstrumentWords words_of(const Naming& naming);

template <typename Target, typename Name, typename Visit>
void visit_note_target(Target&& target, Name&& name, Visit&& visit) {
  visit_note_id(name, target.id, visit);
  visit(Field{"target_cents", "How far off the temperament it should be, cents, + sharp.", in_line}, target.cents);
}

/// All but the targets, which follow.
template <typename Words, typename Visit>
void visit_instrument(Words&& instrument, Visit&& visit) {
  visit(Field{"name", "Its name, if known.", at_least_1}, instrument.name);
  visit(Field{"kind", "", in_line, "kind"}, instrument.kind);
  visit(Field{"lowest", "Its lowest note.", required | in_line, "note_name"}, instrument.lowest);
  visit(Field{"scale", "All its notes, from the lowest up; a note with a further fingering is listed twice.",
              at_least_1 | required, "note_name"},
        instrument.scale);
  visit(Field{"inferred", "Kind or lowest note was judged from the recording."}, instrument.inferred);
  visit(Field{"stretch_cents_per_octave",
              "By how many cents its octaves should be wide; the targets follow it evenly from the lowest note up."},
        instrument.stretch_cents_per_octave);
}

template <typename Who, typename Visit>
void visit_maker(Who&& maker, Visit&& visit) {
  visit(Field{"name", "Name; null: not given.", at_least_1}, maker.name);
  visit(Field{"address", "Address, by line; empty: not given."}, maker.address);
  visit(Field{"model", "What the maker calls this model; null: not given.", at_least_1}, maker.model);
}

template <typename Visit>
void visit_whole_instrument(const InstrumentWords& instrument, Visit&& visit) {
  visit_instrument(instrument, visit);
  visit(Field{"targets", "Notes that should be off the temperament."},
        Nested{instrument.targets, [](const NoteTarget& target, auto&& each) {
                 visit_note_target(target, spelt_for_programs(target.id.midi), each);
               }});
  visit(Field{"maker", "Who makes it, from its file; null: not given."},
        Nested{instrument.maker, [](const Maker& maker, auto&& each) { visit_maker(maker, each); }});
}

/// Of the settings what is written before the temperament.
template <typename Settings, typename Visit>
void visit_reference(Settings&& settings, Visit&& visit) {
  visit(Field{"a4_hz", "Reference pitch that the targets follow, Hz.", above_0 | required | in_csv | in_line},
        settings.tuning.a4_hz);
  visit(Field{"a4_u95_hz", "Where a recorded partner gave A4: its u95, Hz; else null.", at_least_0},
        settings.a4_u95_hz);
}

/// Of the settings what is written between the temperament and the instrument.
template <typename Settings, typename Speed, typename Visit>
void visit_conditions(Settings&& settings, Speed&& speed_of_sound_m_s, Visit&& visit) {
  visit(Field{"bore_temp_c", "Temperature of the air in the blown bore, degrees Celsius.", in_line},
        settings.air.temperature_c);
  visit(Field{"humidity_percent", "Relative humidity of that air, percent.", at_least_0 | at_most_100},
        in_percent(settings.air.relative_humidity));
  visit(Field{"co2_percent", "Carbon dioxide in it, percent.", at_least_0 | at_most_100},
        in_percent(settings.air.co2_fraction));
  visit(Field{"quote_at_c",
              "The notes are given as they would be with the bore at this temperature, degrees Celsius; null: as "
              "recorded.",
              in_line},
        settings.quote_at_c);
  visit(Field{"speed_of_sound_m_s",
              "Speed of sound in the bore at the temperature that the notes are given for, m/s; null or 0: the take "
              "could not be measured.",
              at_least_0},
        speed_of_sound_m_s);
  visit(Field{"head_out_mm", "How far the head was drawn out of fully in while recording, mm; null: not known.",
              at_least_0 | in_line},
        settings.head.out_mm);
  visit(Field{"travel_mm", "How far out it can go at most, mm; null: not known.", at_least_0 | in_line},
        settings.head.travel_mm);
  visit(Field{"head_moves", "false: the head is fixed, and only the breath can answer.", in_line}, settings.head.moves);
  visit(Field{"slide_factor",
              "Measured over predicted change of pitch with the head's place, as calibrated on this instrument; null: "
              "not calibrated.",
              above_0},
        "slide_factor_u95", settings.head.factor);
  visit(
      Field{"said_warm",
            "True if the flute was said to have been played warm before: nothing is allowed for warming that would not "
            "show."},
      settings.blows.is_warm);
  visit(Field{"min_hold_s", "Shortest held note that counts, s.", above_0}, settings.hold_rules.min_hold_s);
  visit(
      Field{"note_names", "How sentences spell notes; this file always spells them with letters and sharps.", in_line},
      settings.note_names);
}

/// All but steady_blow and check_note, which follow.
template <typename Move, typename Visit>
void visit_compromise(Move&& compromise, Visit&& visit) {
  visit(
      Field{"slide_mm", "How far to move the head, mm, + draws out, lengthens, flattens.", required | in_csv | in_line},
      compromise.slide_mm);
  visit(Field{"slide_u95_mm", "Its u95, mm, from the notes; one-sided at a limit of the travel.",
              at_least_0 | in_csv | in_line},
        compromise.slide_u95_mm);
  visit(Field{"slide_model_u95_mm",
              "u95 of the law of cents per mm itself, mm: 5 % of the move until the instrument is calibrated.",
              at_least_0 | in_csv | in_line},
        compromise.slide_model_u95_mm);
  visit(Field{"shift_cents", "Weighted mean change of the pitch that the move makes, cents.", in_csv},
        compromise.shift_cents);
  visit(Field{"shift_u95_cents", "Its u95, cents.", at_least_0 | in_csv | in_line}, compromise.shift_u95_cents);
  visit(Field{"limit", "", in_csv | in_line, "limit"}, compromise.limit);
  visit(Field{"cost_before",
              "Mean cost to the breath as it stands: effort squared up to 2, beyond it 2 (2 effort - 2).", at_least_0},
        compromise.cost_before);
  visit(Field{"cost_after", "The same after the move.", at_least_0}, compromise.cost_after);
  visit(Field{"home_a4_hz", "The A4 at which it is at home without the move, Hz.", above_0 | in_csv | in_line},
        compromise.home_a4_hz);
  visit(Field{"lowest_a4_hz",
              "The same with the head drawn out as far as it goes, Hz; null: its place or its travel is not known.",
              above_0 | in_line},
        compromise.lowest_a4_hz);
  visit(Field{"highest_a4_hz", "The same fully in, Hz; null: its place is not known.", above_0 | in_line},
        compromise.highest_a4_hz);
}

template <typename SteadyChange, typename Visit>
void visit_steady_blow(SteadyChange&& blow, Visit&& visit) {
  visit(Field{"louder_db", "How much louder, dB; negative: softer."}, blow.louder_db);
  visit(Field{"way_share", "Share of the way from moderate to hard, or to soft.", at_least_0 | at_most_1},
        blow.way_share);
  visit(Field{"shift_cents", "Mean change of the pitch, cents."}, blow.shift_cents);
  visit(Field{"cost_after", "Mean cost to the breath with it.", at_least_0}, blow.cost_after);
}

template <typename Rise, typename Warming, typename Visit>
void visit_drift(Rise&& drift, Warming&& as_warming_c, Visit&& visit) {
  visit(Field{"over_take_cents", "From the first hold to the last, cents."}, drift.over_take_cents);
  visit(Field{"over_take_u95_cents", "Its u95, cents.", at_least_0}, drift.over_take_u95_cents);
  visit(Field{"as_warming_c", "The same as warming of the bore, degrees Celsius."}, as_warming_c);
  visit(Field{"reference_time_s", "The notes are given as at this time of the take, s; null: nothing was corrected.",
              at_least_0},
        drift.reference_time_s);
}

template <typename Doubt, typename Visit>
void visit_warning(Doubt&& warning, Visit&& visit) {
  std::string code(text_of(warning.code));
  visit(Field{"code", "Stable word for programs; the manual lists them.", in_line, "", "^[a-z][a-z0-9_]*$"}, code);
  if constexpr (!std::is_const_v<std::remove_reference_t<Doubt>>) warning.code = warning_code(code);
  visit(Field{"message", "What is doubtful and what to do about it, a sentence for people.", at_least_1},
        warning.message);
}

template <typename Visit>
void visit_warnings(const Warnings& warnings, Visit&& visit) {
  visit(Field{"warnings", "", {}, "warnings"},
        Nested{warnings, [](const Warning& warning, auto&& each) { visit_warning(warning, each); }});
}

}  // namespace windway
