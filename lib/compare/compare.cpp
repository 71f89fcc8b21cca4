// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/compare.hpp"

#include <algorithm>
#include <cmath>

#include "compare/compare_warnings.hpp"
#include "compare/measured_move.hpp"
#include "slide/effort.hpp"
#include "slide/law_of_slide.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

const NoteBreath* note_of(const Measurement& measurement, const NoteId& id) {
  const auto& notes = measurement.breath.notes;
  const auto found = std::ranges::find(notes, id, &NoteBreath::id);
  return found == notes.end() ? nullptr : &*found;
}

/// Mean SD of the pitch within the note's holds; a swell is no sign of unsteadiness.
std::optional<double> wander_cents(const Measurement& measurement, const NoteId& note) {
  double sum = 0;
  int holds = 0;
  for (std::size_t h = 0; h < measurement.naming.holds.size(); ++h) {
    if (measurement.naming.holds[h].note != note || !measurement.breath.used[h]) continue;
    if (measurement.breath.blow[h] == Blow::swell) continue;
    sum += measurement.naming.holds[h].hold.wander_cents;
    ++holds;
  }
  return holds > 0 ? std::optional(sum / holds) : std::nullopt;
}

CentsEstimate difference(const CentsEstimate& after, const CentsEstimate& before) {
  return {after.cents - before.cents, std::hypot(after.u95_cents, before.u95_cents)};
}

/// The estimate against the target of the take before: the other take may have had another A4 or temperament.
CentsEstimate against(CentsEstimate estimate, const NoteBreath& note, double target_hz) {
  estimate.cents += cents_between(target_hz, note.target_hz);
  return estimate;
}

NoteChange note_change(const NoteBreath& before, const NoteBreath& after, const Measurement& take_before,
                       const Measurement& take_after) {
  NoteChange change;
  change.note = before.id;
  change.before = before.moderate;
  change.after = against(after.moderate, after, before.target_hz);
  change.change = difference(change.after, change.before);
  change.is_real = std::abs(change.change.cents) > change.change.u95_cents;
  change.spread_before = before.spread;
  change.spread_after = after.spread;
  if (before.spread && after.spread) change.spread_change = difference(*after.spread, *before.spread);
  change.wander_before_cents = wander_cents(take_before, before.id);
  change.wander_after_cents = wander_cents(take_after, after.id);
  return change;
}

/// By the law of the slide, from the lengths in the take before.
void predict(std::vector<NoteChange>& changes, const Measurement& before, double drawn_out_mm) {
  const std::vector<SlideNote> notes = slide_notes(before.breath.notes, before.speed_of_sound_m_s);
  for (NoteChange& change : changes)
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (before.breath.notes[i].id == change.note)
        change.predicted_cents = slide_change_cents(notes[i].effective_length_mm, drawn_out_mm);
}

/// All notes weigh alike: what moves them together is not told by the surest.
CentsEstimate mean_change(const std::vector<NoteChange>& changes) {
  CentsEstimate mean;
  double variance = 0;
  const auto count = static_cast<double>(changes.size());
  for (const NoteChange& change : changes) {
    mean.cents += change.change.cents / count;
    variance += std::pow(change.change.u95_cents / count, 2);
  }
  mean.u95_cents = std::sqrt(variance);
  return mean;
}

std::optional<Repeat> repeat_of(const std::vector<NoteChange>& changes) {
  if (changes.size() < 2) return std::nullopt;
  Repeat repeat;
  repeat.together = mean_change(changes);
  repeat.notes = static_cast<int>(changes.size());
  double squares = 0;
  for (const NoteChange& change : changes) squares += std::pow(change.change.cents - repeat.together.cents, 2);
  const double degrees = static_cast<double>(changes.size()) - 1.0;
  repeat.note_sd_cents = std::sqrt(squares / degrees / 2.0);  // a difference has the variance of two takes
  repeat.note_u95_cents = u95_factor(degrees) * repeat.note_sd_cents;
  return repeat;
}

}  // namespace

Comparison compare(const Measurement& before, const Measurement& after, const CompareHint& hint) {
  Comparison found;
  for (const NoteBreath& note : before.breath.notes) {
    const NoteBreath* again = note_of(after, note.id);
    again ? found.notes.push_back(note_change(note, *again, before, after)) : found.only_before.push_back(note.id);
  }
  for (const NoteBreath& note : after.breath.notes)
    if (!note_of(before, note.id)) found.only_after.push_back(note.id);
  if (found.notes.empty()) {
    throw Error(ErrorKind::recording,
                "cannot compare the two takes: no note is in both; record the same notes before and after");
  }
  found.mean_change = mean_change(found.notes);
  if (hint.drawn_out_mm) {
    predict(found.notes, before, *hint.drawn_out_mm);
    found.move = measured_move(found.notes, *hint.drawn_out_mm);
  }
  if (hint.same_setting && !same_recording(before, after)) found.repeat = repeat_of(found.notes);
  found.warnings = compare_warnings(before, after, found);
  return found;
}

}  // namespace windway
