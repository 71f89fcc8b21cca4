// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "compare/compare.hpp"
#include "partner/partner.hpp"
#include "playing/playing.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/player/protocol.hpp"

namespace windway {

// The fields of what else a player asks, in the order in which they are written: compare, partner, playing, protocol.

template <typename Visit>
void visit_note_change(const NoteChange& note, const std::string& name, Visit&& visit) {
  visit_note_id(name, note.note, visit);
  visit(Field{"is_real", "It has changed by more than the change's u95.", in_csv}, note.is_real);
  visit(Field{"before_cents", "Cents from the target, before.", in_csv}, "before_u95_cents", note.before);
  visit(Field{"after_cents", "Cents from the same target, after.", in_csv}, "after_u95_cents", note.after);
  visit(Field{"change_cents", "After less before, cents.", in_csv}, "change_u95_cents", note.change);
  visit(Field{"predicted_cents", "Change that the law of the slide predicts, cents; null: no move was given.", in_csv},
        note.predicted_cents);
  const auto cents_of = [](const std::optional<CentsEstimate>& estimate) {
    return estimate ? std::optional(estimate->cents) : std::nullopt;
  };
  visit(Field{"spread_before_cents", "Hard less soft, before, cents; null: not measured.", at_least_0 | in_csv},
        cents_of(note.spread_before));
  visit(Field{"spread_after_cents", "The same after.", at_least_0 | in_csv}, cents_of(note.spread_after));
  visit(Field{"spread_change_cents", "After less before, cents; null: not measured in both.", in_csv},
        "spread_change_u95_cents", note.spread_change);
  visit(Field{"wander_before_cents",
              "Mean SD of the pitch within a hold, before, cents: the player's steadiness; null: swells only.",
              at_least_0 | in_csv},
        note.wander_before_cents);
  visit(Field{"wander_after_cents", "The same after.", at_least_0 | in_csv}, note.wander_after_cents);
}

template <typename Visit>
void visit_measured_move(const MeasuredMove& move, Visit&& visit) {
  visit(Field{"drawn_out_mm", "How far the head was moved, mm, + out."}, move.drawn_out_mm);
  visit(Field{"slide_factor", "Measured over predicted change, for the instrument's file."}, "slide_factor_u95",
        move.factor);
  visit(Field{"warming_cents",
              "Change common to all notes that is not the head's, cents; 0 where it is too small to measure."},
        "warming_u95_cents", move.warming);
  visit(Field{"warming_told", "True if the notes distinguish warming from the move."}, move.warming_told);
  visit(Field{"is_telling", "True if the move was large enough for the factor to be worth keeping."}, move.is_telling);
}

template <typename Visit>
void visit_repeat(const Repeat& repeat, Visit&& visit) {
  visit(Field{"together_cents", "Change common to all notes, cents: warmth, blowing."}, "together_u95_cents",
        repeat.together);
  visit(Field{"note_sd_cents", "SD of one note of one take from that, cents.", at_least_0}, repeat.note_sd_cents);
  visit(Field{"note_u95_cents", "u95 of a note of one take without the common change, cents.", at_least_0},
        repeat.note_u95_cents);
  visit(Field{"notes", "Number of notes that this is from.", {}, "two_or_more"}, repeat.notes);
}

template <typename Visit>
void visit_comparison(const Comparison& comparison, Visit&& visit) {
  const auto names_of = [](const std::vector<NoteId>& notes) {
    std::vector<std::string> names;
    for (const NoteId& note : notes) names.push_back(spelt_for_programs(note.midi));
    return names;
  };
  visit(Field{"notes", "The notes that are in both takes, ascending.", at_least_1},
        Nested{comparison.notes, [](const NoteChange& note, auto&& each) {
                 visit_note_change(note, spelt_for_programs(note.note.midi), each);
               }});
  visit(Field{"only_before", "Notes that are in the take before only.", {}, "note_name"},
        names_of(comparison.only_before));
  visit(Field{"only_after", "Notes that are in the take after only.", {}, "note_name"},
        names_of(comparison.only_after));
  visit(Field{"mean_change_cents", "Mean change, all notes alike, cents."}, "mean_change_u95_cents",
        comparison.mean_change);
  visit(Field{"move", "The move that was given, against what the pitch did; null: none was given."},
        Nested{comparison.move, [](const MeasuredMove& move, auto&& each) { visit_measured_move(move, each); }});
  visit(Field{"repeat",
              "How two takes of one setting differ; null: the setting was not said to be the same, or fewer than two "
              "notes are in both."},
        Nested{comparison.repeat, [](const Repeat& repeat, auto&& each) { visit_repeat(repeat, each); }});
  visit_warnings(comparison.warnings, visit);
}

/// The fields of a take that was measured, those that `has(key)`.
template <typename Has, typename Visit>
void visit_recording(const char* which, const TakeInfo& take, Has has, Visit&& visit) {
  visit(Field{"recording", which},
        Nested{take, [&](const TakeInfo& known, auto&& each) {
                 visit_take(known, [&](Field field, const auto& value) {
                   if (!has(std::string_view(field.key))) return;
                   std::string meaning = field.meaning;
                   if (field.is(nullable)) meaning = meaning.substr(0, meaning.find("; null")) + ".";
                   field.meaning = meaning.c_str();
                   field.traits = static_cast<FieldTraits>(field.traits & ~static_cast<unsigned>(nullable));
                   each(field, value);
                 });
               }});
}

template <typename Visit>
void visit_partner_note(const PartnerNote& note, const std::string& name, Visit&& visit) {
  visit(Field{"note", "", in_csv, "note_name"}, name);
  visit(Field{"midi", "", in_csv, "midi"}, note.midi);
  visit(Field{"frequency_hz", "Frequency of its first partial, fitted to all of them, Hz.", above_0 | in_csv},
        note.frequency_hz);
  visit(Field{"u95_cents", "Its u95, cents.", at_least_0 | in_csv}, note.u95_cents);
  visit(Field{"deviation_cents", "From its target at the A4 that was found, cents, + sharp.", in_csv},
        note.deviation_cents);
  visit(Field{"inharmonicity", "B of f_n = n f0 sqrt(1 + B n^2); null: no more than its u95.", above_0 | in_csv},
        "inharmonicity_u95", note.inharmonicity);
  visit(Field{"partials", "Number of partials that its pitch was found from.", at_least_1 | in_csv}, note.partials);
  visit(Field{"beat_hz",
              "Its reeds or strings stand that far apart, Hz, and the pitch is halfway between; null: no beat.",
              above_0 | in_csv},
        note.beat_hz);
  visit(Field{"start_s", "Start in the recording, s.", at_least_0 | in_csv}, note.start_s);
  visit(Field{"duration_s", "How long it sounds, s.", at_least_0 | in_csv}, note.duration_s);
  visit(Field{"counts", "It counts in the A4: it is in the range and not far off the others.", in_csv}, note.counts);
}

/// What each row of CSV repeats.
template <typename Visit>
void visit_partner_pitch(const Partner& partner, Visit&& visit) {
  visit(Field{"a4_hz", "The A4 that its notes imply in the flute's range, Hz.", above_0 | in_csv}, partner.a4_hz);
  visit(Field{"a4_u95_hz", "Its u95, Hz.", at_least_0 | in_csv}, partner.a4_u95_hz);
}

template <typename Visit>
void visit_partner(const Partner& partner, Visit&& visit) {
  visit_recording(
      "The recorded file.", partner.take, [](std::string_view key) { return key != "recorded_at"; }, visit);
  visit_partner_pitch(partner, visit);
  visit(Field{"temperament", "How the partner was taken to be tempered."},
        Nested{partner.temperament, [](const Temperament& temperament, auto&& each) {
                 each(Field{"name", "", {}, "temperament_name"}, temperament_word(temperament.name));
                 each(Field{"key",
                            "Key note as a number, 0 = C ... 11 = B (windway.measurement.v1 has its letter); null: "
                            "equal temperament has none.",
                            {},
                            "pitch_class_number"},
                      temperament.key_pitch_class);
               }});
  visit(Field{"range", "Range in which its notes count."},
        Nested{partner, [](const Partner& known, auto&& each) {
                 each(Field{"lowest_midi", "", {}, "midi"}, known.lowest_midi);
                 each(Field{"highest_midi", "", {}, "midi"}, known.highest_midi);
               }});
  visit(Field{"scatter_cents", "SD between the notes that their own uncertainties do not explain, cents.", at_least_0},
        partner.scatter_cents);
  visit(Field{"notes", "The notes that it sounded, in order of their starts.", at_least_1},
        Nested{partner.notes, [](const PartnerNote& note, auto&& each) {
                 visit_partner_note(note, spelt_for_programs(note.midi), each);
               }});
  visit_warnings(partner.warnings, visit);
}

/// A note of a melody, and where the further move takes it.
struct PlayedRow {
  PlayedPitch note;
  std::optional<CentsEstimate> moved;  ///< absent: not in the scale
};

template <typename Visit>
void visit_played_note(const PlayedRow& row, const std::string& name, Visit&& visit) {
  const PlayedPitch& note = row.note;
  visit(Field{"note", "", in_csv, "note_name"}, name);
  visit(Field{"midi", "", in_csv, "midi"}, note.midi);
  visit(Field{"register", "Register: which mode of the bore sounds.", at_least_1 | in_csv}, note.register_number);
  visit(Field{"in_scale", "The instrument's fingering gives it; else it counts for nothing.", in_csv}, note.in_scale);
  visit(Field{"target_hz", "The frequency that it should have, Hz.", above_0 | in_csv}, note.target_hz);
  visit(Field{"sounded_s", "How long it sounds in all, ornaments left out, s.", at_least_0 | in_csv}, note.sounded_s);
  visit(Field{"time_share", "Its share of the time that all notes sound.", at_least_0 | at_most_1 | in_csv},
        note.time_share);
  visit(Field{"occurrences", "How often it sounds.", at_least_1 | in_csv}, note.occurrences);
  visit(Field{"median_cents", "Median deviation over time, cents; of a vibrato the middle.", in_csv},
        note.median.cents);
  visit(Field{"median_u95_cents", "Its u95, cents: as another such melody would differ.", at_least_0 | in_csv},
        note.median.u95_cents);
  visit(Field{"lower_quartile_cents", "A quarter of its time it is flatter than this, cents from the target.", in_csv},
        note.lower_quartile_cents);
  visit(Field{"upper_quartile_cents", "A quarter of its time it is sharper than this, likewise.", in_csv},
        note.upper_quartile_cents);
  visit(
      Field{"moderate_cents", "Its moderate pitch in the scale take, cents from the target; null: not in it.", in_csv},
      note.moderate_cents);
  visit(Field{"from_take_cents", "Median less that, cents; null with it.", in_csv}, "from_take_u95_cents",
        note.from_take);
  visit(Field{"moved_cents", "Median after the further move, cents; null: not in the scale.", in_csv},
        "moved_u95_cents", row.moved);
}

template <typename Visit>
void visit_played_register(const PlayedRegister& played, Visit&& visit) {
  visit(Field{"register", "Register: which mode of the bore sounds.", at_least_1}, played.register_number);
  visit(Field{"sounded_s", "How long its notes sound, s.", at_least_0}, played.sounded_s);
  visit(Field{"deviation_cents", "Mean deviation from the targets, cents."}, "deviation_u95_cents", played.deviation);
  visit(Field{"from_take_cents",
              "The same from the moderate pitch in the scale take, cents; null: no scale take, or no note in both."},
        "from_take_u95_cents", played.from_take);
}

template <typename Visit>
void visit_playing(const Playing& playing, const std::vector<PlayedRow>& rows, Visit&& visit) {
  const Tuning& tuning = playing.settings.tuning;
  visit_recording(
      "The recorded melody.", playing.take,
      [](std::string_view key) { return !key.starts_with("channel") && key != "sample_rate_hz"; }, visit);
  visit(Field{"a4_hz", "Reference pitch that the targets follow, Hz.", above_0}, tuning.a4_hz);
  visit(Field{"temperament", "", {}, "temperament_name"}, temperament_word(tuning.temperament.name));
  visit(Field{"instrument", "The instrument as it was taken."},
        Nested{playing, [](const Playing& known, auto&& each) {
                 each(Field{"kind", "", {}, "kind"}, known.instrument.kind);
                 each(Field{"lowest", "Its lowest note.", {}, "note_name"},
                      spelt_for_programs(known.instrument.lowest_midi));
                 each(Field{"inferred", "Kind or lowest note was judged from the recording."}, known.inferred);
               }});
  visit(Field{"sounded_s", "Time that all notes sound, ornaments left out, s.", above_0}, playing.sounded_s);
  visit(Field{"further_move",
              "The further move of the head that answers the playing, each note counting by its time; null: no note is "
              "in the scale."},
        // Of the compromise only what the move itself is: those of its figures that have a column.
        Nested{playing.further, [](const Compromise& move, auto&& each) {
                 visit_compromise(move, [&](const Field& field, const auto& value) {
                   if (field.is(in_csv)) each(field, value);
                 });
               }});
  visit(Field{"registers", "The registers that notes of the scale lie in, ascending."},
        Nested{playing.registers,
               [](const PlayedRegister& played, auto&& each) { visit_played_register(played, each); }});
  visit(Field{"notes", "The notes that the melody sounds, ascending.", at_least_1},
        Nested{rows, [](const PlayedRow& row, auto&& each) {
                 visit_played_note(row, spelt_for_programs(row.note.midi), each);
               }});
  visit_warnings(playing.warnings, visit);
}

template <typename Visit>
void visit_protocol(const Protocol& protocol, Visit&& visit) {
  visit(Field{"warm_up_s", "How long to play first, to warm the flute, s.", at_least_0}, protocol.warm_up_s);
  visit(Field{"hold_s", "How long to hold each blow, s.", above_0}, protocol.hold_s);
  visit(Field{"gap_s", "How long to be silent after it, s.", at_least_0}, protocol.gap_s);
  visit(Field{"duration_s", "How long it all takes, warming up left out, s.", above_0}, duration_s(protocol));
  visit(Field{"blows", "How to blow each note, in order.", at_least_1, "strength"}, protocol.blows);
  visit(Field{"steps", "The notes to play, in order.", at_least_1},
        Nested{protocol.steps, [](const ProtocolStep& step, auto&& each) {
                 visit_note_id(spelt_for_programs(step.note.midi), step.note, each);
                 each(Field{"optional", "Optional: leave it out if you do not use this fingering."}, step.is_optional);
               }});
  visit(
      Field{"order", "The steps as `windway measure --order` takes them, spelt as the call asked: D5 E5 D6 D6:vented.",
            at_least_1},
      order_of(protocol));
}

}  // namespace windway
