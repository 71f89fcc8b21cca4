// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "units/units.hpp"
#include "verdict/evenness.hpp"
#include "verdict/work_advice.hpp"

namespace windway {
namespace {

bool is_of_its_major_scale(int midi, const Instrument& instrument) {
  constexpr std::array semitones{0, 2, 4, 5, 7, 9, 11};
  return std::ranges::find(semitones, ((midi - instrument.lowest_midi) % 12 + 12) % 12) != semitones.end();
}

Judged within_limits(Criterion criterion, double value, double u95, double lower, double upper) {
  return {.criterion = criterion,
          .result = judged_within(value, u95, lower, upper),
          .value = value,
          .u95 = u95,
          .lower = lower,
          .upper = upper};
}

Judged of_note(Judged judged, const NoteId& note) {
  judged.note = note;
  return judged;
}

Judged unjudged(Criterion criterion, std::string why) {
  return {.criterion = criterion, .result = VerdictResult::not_measured, .why = std::move(why)};
}

std::optional<double> tolerance_of(const NoteBreath& note, const Instrument& instrument, const JudgeLimits& limits) {
  const ScaleNote* own = scale_note(instrument, note.id);
  return own != nullptr && own->tolerance_cents ? own->tolerance_cents : limits.tolerance_cents;
}

void judge_notes(const Measurement& measurement, const JudgeLimits& limits, std::vector<Judged>& judged) {
  const auto& notes = measurement.breath.notes;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const auto limit_cents = tolerance_of(notes[i], measurement.naming.instrument, limits);
    if (!limit_cents || !(notes[i].weight > 0)) continue;
    const MovedNote& moved = measurement.compromise->notes[i];
    judged.push_back(of_note(within_limits(Criterion::note, moved.cents, moved.u95_cents, -*limit_cents, *limit_cents),
                             notes[i].id));
  }
}

std::optional<double> max_spread_of(const NoteBreath& note, const Instrument& instrument, const JudgeLimits& limits) {
  const ScaleNote* own = scale_note(instrument, note.id);
  return own != nullptr && own->max_spread_cents ? own->max_spread_cents : limits.max_spread_cents;
}

void judge_spreads(const Measurement& measurement, const JudgeLimits& limits, std::vector<Judged>& judged) {
  for (const NoteBreath& note : measurement.breath.notes) {
    const auto max_spread_cents = max_spread_of(note, measurement.naming.instrument, limits);
    if (!max_spread_cents || !(note.weight > 0)) continue;
    Judged one = unjudged(Criterion::spread, "soft and hard were not both measured, so its spread is not known");
    one.upper = max_spread_cents;
    if (note.spread) {
      const auto [cents, u95_cents] = *note.spread;
      // A spread has no lower limit: what is steadier than asked is no fault.
      one = within_limits(Criterion::spread, cents, u95_cents, cents - u95_cents, *max_spread_cents);
      one.lower.reset();
    }
    judged.push_back(of_note(one, note.id));
  }
}

/// A further fingering is told from the usual one only where the order of the run was said.
bool is_asked_of_a_take(const ScaleNote& note) { return note.weight > 0 && note.id.fingering.empty(); }

/// Whether as many notes were heard as half of its major scale has. Nobody plays all that a chromatic instrument has.
bool has_half_of_its_scale(const std::set<NoteId>& heard, const Instrument& instrument) {
  std::size_t scale_notes = 0;
  std::size_t heard_notes = 0;
  for (const ScaleNote& note : instrument.scale) {
    if (!is_asked_of_a_take(note)) continue;
    scale_notes += is_of_its_major_scale(note.id.midi, instrument) ? 1 : 0;
    heard_notes += heard.contains(note.id) ? 1 : 0;
  }
  return 2 * heard_notes >= scale_notes;
}

/// Where a file says which notes must be there, each is asked for; else as many as half of a scale has.
void judge_heard(const Measurement& measurement, bool every_note, std::vector<Judged>& judged) {
  std::set<NoteId> heard;
  for (const NoteBreath& note : measurement.breath.notes) heard.insert(note.id);
  const Instrument& instrument = measurement.naming.instrument;
  if (!every_note) {
    if (!has_half_of_its_scale(heard, instrument))
      judged.push_back(unjudged(Criterion::take, "fewer than half of the notes of its scale were held"));
    return;
  }
  for (const ScaleNote& note : instrument.scale)
    if (is_asked_of_a_take(note) && !heard.contains(note.id))
      judged.push_back(of_note(unjudged(Criterion::heard, "it was not held"), note.id));
}

/// The part of the move that has to be taken on trust where nobody said how far out the head was.
std::optional<Judged> push_in_on_trust(const Compromise& compromise, const Head& head) {
  const double u95_mm = slide_u95_mm(compromise);
  if (!head.moves || head.out_mm || compromise.slide_mm >= -u95_mm) return std::nullopt;
  return unjudged(
      Criterion::head_place,
      "its head must be pushed in, and it is not known how far out it was: give --head-out or --fully-in, or a "
      "column head_out_mm in the manifest");
}

void judge_head(const Measurement& measurement, const JudgeLimits& limits, Verdict& verdict) {
  const Head& head = measurement.settings.head;
  const Compromise& compromise = *measurement.compromise;
  const double u95_mm = slide_u95_mm(compromise);
  if (head.moves && head.out_mm) {
    verdict.head_rests_mm = *head.out_mm + compromise.slide_mm;
    verdict.head_rests_u95_mm = u95_mm;
  }
  if (const auto trust = push_in_on_trust(compromise, head)) {
    verdict.judged.push_back(*trust);
  } else if (limits.head_out_range_mm && !head.moves) {
    verdict.judged.push_back(unjudged(Criterion::head_place,
                                      "its head does not move, so a range of places cannot be judged: leave "
                                      "out --head-out-range"));
  } else if (limits.head_out_range_mm && head.moves && !head.out_mm) {
    verdict.judged.push_back(
        unjudged(Criterion::head_place, "it is not known how far out the head was while recording"));
  } else if (limits.head_out_range_mm && verdict.head_rests_mm) {
    const auto [min_mm, max_mm] = *limits.head_out_range_mm;
    verdict.judged.push_back(within_limits(Criterion::head_place, *verdict.head_rests_mm, u95_mm, min_mm, max_mm));
  }
}

/// At the end of the travel the instrument may still be off as a whole, though each note keeps its tolerance.
void judge_reach(const Measurement& measurement, double tolerance_cents, std::vector<Judged>& judged) {
  const Compromise& compromise = *measurement.compromise;
  const auto end_hz = end_a4_hz(compromise);
  if (!end_hz) return;
  const double off_cents = cents_between(measurement.settings.tuning.a4_hz, *end_hz);
  judged.push_back(
      within_limits(Criterion::reach_of_a4, off_cents, compromise.shift_u95_cents, -tolerance_cents, tolerance_cents));
}

/// Without a limit of its own, what two notes within the tolerance can differ by at most.
std::optional<double> octave_limit_cents(const JudgeLimits& limits) {
  if (limits.max_octave_cents || !limits.tolerance_cents) return limits.max_octave_cents;
  return 2 * *limits.tolerance_cents;
}

void judge_octave(const Verdict& found, const JudgeLimits& limits, std::vector<Judged>& judged) {
  const auto most_cents = octave_limit_cents(limits);
  if (!most_cents) return;
  if (!found.octave) {
    // What follows from the tolerance alone is not asked of an instrument, or a take, of one register.
    if (limits.max_octave_cents)
      judged.push_back(unjudged(Criterion::octave, "no note was held in both octaves, so they cannot be compared"));
    return;
  }
  const auto [cents, u95_cents] = *found.octave;
  judged.push_back(within_limits(Criterion::octave, cents, u95_cents, -*most_cents, *most_cents));
}

}  // namespace

JudgeLimits limits_for(const JudgeLimits& said, const std::optional<Instrument>& instrument) {
  if (!instrument) return said;
  JudgeLimits limits = said;
  if (!limits.tolerance_cents) limits.tolerance_cents = instrument->tolerance_cents;
  limits.notes_have_their_own = std::ranges::any_of(
      instrument->scale, [](const ScaleNote& note) { return note.tolerance_cents || note.max_spread_cents; });
  if (!limits.max_spread_cents) limits.max_spread_cents = instrument->max_spread_cents;
  if (!limits.max_octave_cents) limits.max_octave_cents = instrument->max_octave_cents;
  if (!limits.head_out_range_mm) limits.head_out_range_mm = instrument->head_out_range_mm;
  return limits;
}

VerdictResult judged_within(double value, double u95, double lower, double upper) {
  if (value - u95 >= lower && value + u95 <= upper) return VerdictResult::pass;
  if (value + u95 < lower || value - u95 > upper) return VerdictResult::fail;
  return VerdictResult::too_close;
}

VerdictResult worst_of(const std::vector<Judged>& judged) {
  for (const VerdictResult each : {VerdictResult::fail, VerdictResult::not_measured, VerdictResult::too_close})
    if (std::ranges::find(judged, each, &Judged::result) != judged.end()) return each;
  return judged.empty() ? VerdictResult::not_measured : VerdictResult::pass;
}

Verdict not_measured(const std::string& why) {
  Verdict verdict;
  verdict.judged.push_back(unjudged(Criterion::take, why));
  return verdict;
}

bool asks_anything(const JudgeLimits& limits) {
  return limits.tolerance_cents || limits.notes_have_their_own || limits.max_spread_cents || limits.max_octave_cents ||
         limits.head_out_range_mm;
}

Verdict judge(const Measurement& measurement, const JudgeLimits& limits) {
  for (const Warning& warning : measurement.warnings)
    if (is_deep_doubt(warning.code)) return not_measured(warning.message);
  if (!measurement.compromise) return not_measured("no note of its scale was held");
  Verdict verdict;
  if (const auto relation = octave_relation(measurement)) {
    verdict.octave = relation->wide;
    verdict.octave_pairs = relation->pairs;
  }
  verdict.evenness_cents = evenness_cents(measurement);
  verdict.worst_step = worst_step(measurement);
  judge_heard(measurement, limits.every_note, verdict.judged);
  judge_notes(measurement, limits, verdict.judged);
  judge_spreads(measurement, limits, verdict.judged);
  judge_octave(verdict, limits, verdict.judged);
  judge_head(measurement, limits, verdict);
  if (limits.tolerance_cents) judge_reach(measurement, *limits.tolerance_cents, verdict.judged);
  if (verdict.judged.empty())
    verdict.judged.push_back(unjudged(Criterion::take, "none of the limits could be judged from this take"));
  verdict.result = worst_of(verdict.judged);
  if (verdict.result == VerdictResult::fail) verdict.work = work_advice(measurement, verdict.judged);
  return verdict;
}

}  // namespace windway
