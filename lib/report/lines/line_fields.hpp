// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "takes/jobs.hpp"
#include "verdict/verdict.hpp"

namespace windway {

// What a line of windway batch has beyond a measurement: subject, counting and verdict.

template <typename Identity, typename Visit>
void visit_subject(Identity&& subject, Visit&& visit) {
  visit_subject_texts(subject, visit);
  visit(Field{"retake", "Number of the take among those of the same serial number and stage; null: not given.",
              at_least_0 | in_csv | in_line},
        subject.retake);
  visit(Field{"recorded_at", "When it was recorded, from the manifest; null: not given.", in_csv | in_line},
        subject.recorded_at);
  visit(Field{"remark", "What else was noted; null: nothing.", in_csv | in_line}, subject.remark);
  visit(Field{"other", "Further columns of the manifest: name and content, which may be empty.", in_csv | in_line},
        subject.other);
}

template <typename Count, typename Visit>
void visit_counting(Count&& counting, Visit&& visit) {
  visit(Field{"counts", "True if the verdict rests on this take, where a serial number has several takes of one stage.",
              in_line},
        counting.counts);
  visit(
      Field{"takes_of_subject",
            "Number of takes of the same serial number, stage and head, in this batch or in all results read together.",
            at_least_1 | in_line},
      counting.takes_of_subject);
  visit(Field{"is_first", "True if it is the first take of this serial number and stage.", in_line}, counting.is_first);
  visit(Field{"verdict_from", "Which takes count where a serial number has several of one stage.", in_line},
        counting.from);
  visit(Field{"keeper", "True if it is of the bench's own flute (--keeper), which is neither judged nor counted.",
              in_line},
        counting.keeper);
  visit(Field{"group_by", "What the batch grouped its instruments by; null: nothing.", in_line}, counting.group_by);
  visit(Field{"is_lost", "True if the manifest names it but there was no such file.", in_line}, counting.is_lost);
}

/// What the batch said of the take besides how it counts.
template <typename Take, typename Visit>
void visit_of_batch(Take&& take, Visit&& visit) {
  visit(Field{"settings_key", "Short hash of the settings that it was measured and judged with.", in_line, "",
              "^[0-9a-f]{16}$"},
        take.settings_key);
  visit(Field{"bore_temp_c", "Temperature of the air in the bore, from the manifest, degrees C; null: not given.",
              in_line},
        take.bore_temp_c);
}

/// Why the take could not be measured.
template <typename Text, typename Visit>
void visit_error(Text&& error, Visit&& visit) {
  visit(
      Field{"error", "Why the take could not be measured; null or not there: it was.", at_least_1 | nullable | in_line},
      error);
}

template <typename Step, typename Visit>
void visit_uneven_step(Step&& step, Visit&& visit) {
  visit(Field{"from", "", {}, "note_name"}, spelt_for_programs(step.from.midi));
  visit(Field{"to", "", {}, "note_name"}, spelt_for_programs(step.to.midi));
  visit(Field{"wide_cents", "How much wider it is than between the notes' targets, cents; negative: narrower."},
        step.wide_cents);
}

/// All but worst_step and judged, which follow.
template <typename Judgement, typename Visit>
void visit_verdict(Judgement&& verdict, Visit&& visit) {
  visit(Field{"result",
              "The worst result of all that was judged. too_close: the interval contains a limit, record again; "
              "not_measured: it could not be judged.",
              in_line},
        verdict.result);
  visit(Field{"head_rests_mm", "Best place of the head, mm out of fully in; null: not known how far out it was.",
              in_line},
        verdict.head_rests_mm);
  visit(Field{"head_rests_u95_mm", "Its u95, mm; null with it.", at_least_0 | in_line}, verdict.head_rests_u95_mm);
  visit(Field{"octave_cents",
              "Upper notes less lower notes, mean over pairs of one fingering's two registers, cents, + wider than "
              "their targets are apart; null: no pairs.",
              in_line},
        "octave_u95_cents", verdict.octave);
  visit(Field{"octave_pairs", "Number of those pairs.", at_least_0}, verdict.octave_pairs);
  visit(Field{"evenness_cents", "RMS of the notes' residuals after the move, cents; null: not measured.",
              at_least_0 | in_line},
        verdict.evenness_cents);
}

/// `message`: the same for people.
template <typename Advice, typename Text, typename Visit>
void visit_work(Advice&& work, Text&& message, Visit&& visit) {
  const HoleAdvice& degree = work.degree;
  const NoteId note = degree.by_register.empty() ? NoteId{} : degree.by_register.front().id;
  const auto place = [&](const std::optional<double>& mm) { return work.one_hole_mends ? mm : std::nullopt; };
  visit(Field{"note", "The lowest note of the hole.", {}, "note_name"}, spelt_for_programs(note.midi));
  visit(Field{"midi", "", {}, "midi"}, note.midi);
  visit(Field{"off_cents", "Mean of its registers compared with the other degrees, cents, + sharp."}, "off_u95_cents",
        degree.common);
  visit(Field{"registers", "Each note of the hole by itself."},
        Nested{degree.by_register, [](const RegisterCents& part, auto&& each) {
                 visit_note_id(spelt_for_programs(part.id.midi), part.id, each);
                 each(Field{"register", "", at_least_1}, part.register_number);
                 each(Field{"off_cents"}, "off_u95_cents", part.common);
               }});
  visit(
      Field{"one_hole_mends",
            "false: its registers differ too much for one hole to surely bring both within their tolerances.", in_line},
      work.one_hole_mends);
  visit(
      Field{"work",
            "enlarge: make the hole larger, or undercut it towards the window; fill: make it smaller; shorten, "
            "lengthen: the lowest note has no hole, change the body's length; none: work at one hole cannot mend it."},
      work.one_hole_mends ? degree.work : HoleWork::none);
  visit(Field{"towards_window_mm",
              "The work does as much as moving the hole, or the end, so far towards the window, mm; negative: away "
              "from it; null: work at one hole cannot mend it."},
        place(degree.move_mm));
  visit(Field{"towards_window_u95_mm", "Its u95, mm; null with it.", at_least_0}, place(degree.move_u95_mm));
  visit(Field{"message", "The same as sentences for people.", at_least_1 | in_line}, message);
}

/// What of a criterion's record is not the criterion's own.
struct JudgedWords {
  std::optional<std::string> name;
  std::optional<int> midi;
  std::string fingering;
  std::optional<double> u95;
  std::string message;
};

/// A place of the head is in mm, all else in cents.
template <typename One, typename Words, typename Visit>
void visit_judged(One&& judged, Words&& words, Visit&& visit) {
  visit(Field{"criterion",
              "take: the take as a whole could not be judged; heard: a note of the instrument was not held; note: its "
              "residual with the head at its best place; spread: from soft to hard; octave: upper notes less lower "
              "notes; head_place: how far out the head's best place is; reach_of_a4: how far the instrument is from A4 "
              "with the head at the end of its travel.",
              in_line},
        judged.criterion);
  visit(Field{"result", "too_close: the interval contains a limit, record again; not_measured: it could not be judged.",
              in_line},
        judged.result);
  visit(Field{"note", "The note that was judged; null: the criterion is not about a note.", {}, "note_name"},
        words.name);
  visit(Field{"midi", "The same as MIDI key; null with it.", in_line, "midi"}, words.midi);
  visit(Field{"fingering", "", nullable | in_line, "fingering"}, words.fingering);
  if (judged.criterion == Criterion::head_place) {
    visit(Field{"value_mm", "What was judged, mm, of head_place alone; null: it could not be.", in_line}, judged.value);
    visit(Field{"u95_mm", "Its u95, mm; null with it.", at_least_0 | in_line}, words.u95);
    visit(Field{"lower_mm", "Its lower limit, mm; null: none.", in_line}, judged.lower);
    visit(Field{"upper_mm", "Its upper limit, mm; null: none.", in_line}, judged.upper);
  } else {
    visit(Field{"value_cents", "What was judged, cents; null: it could not be.", in_line}, judged.value);
    visit(Field{"u95_cents", "Its u95, cents; null with it.", at_least_0 | in_line}, words.u95);
    visit(Field{"lower_cents", "Its lower limit, cents; null: none.", in_line}, judged.lower);
    visit(Field{"upper_cents", "Its upper limit, cents; null: none.", in_line}, judged.upper);
  }
  visit(
      Field{"message", "Why it did not pass, a sentence for people; null: it passed.", at_least_1 | nullable | in_line},
      words.message);
}

}  // namespace windway
