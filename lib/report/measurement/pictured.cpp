// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/pictured.hpp"

#include <algorithm>

#include "report/measurement/advice.hpp"
#include "report/measurement/figures_fields.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"
#include "slide/law_of_slide.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

/// From the figures as they are written, so that a saved result draws and says the same again.
SlideNote as_written(SlideNote note, const MovedNote& moved) {
  note.moderate_cents = rounded(note.moderate_cents);
  note.effective_length_mm = rounded(moved.effective_length_mm);
  note.reach_soft_cents = rounded(note.reach_soft_cents);
  note.reach_hard_cents = rounded(note.reach_hard_cents);
  note.slide_factor = rounded(note.slide_factor);
  return note;
}

PicturedNote pictured_note(const Measurement& measurement, std::size_t at, SlideNote found) {
  const NoteBreath& note = measurement.breath.notes[at];
  found.reach_soft_cents = note.reach_soft_cents.value_or(found.reach_soft_cents);
  found.reach_hard_cents = note.reach_hard_cents.value_or(found.reach_hard_cents);
  const MovedNote& moved = measurement.compromise->notes[at];
  return {spelt_for_people(note.id, measurement),
          note.register_number > 1,
          !note.reach_soft_cents || !note.reach_hard_cents,
          found,
          true_places(as_written(found, moved)),
          &note,
          &moved};
}

}  // namespace

std::optional<Pictured> pictured(const Measurement& measurement) {
  if (!measurement.compromise || measurement.breath.notes.size() < 2 || is_in_deep_doubt(measurement))
    return std::nullopt;
  const Head& head = measurement.settings.head;
  const double factor = head.factor ? head.factor->factor : 1.0;
  Pictured picture;
  picture.found = slide_notes(measurement.breath.notes, measurement.speed_of_sound_m_s, factor);
  picture.compromise = &*measurement.compromise;
  picture.head_moves = head.moves;
  picture.is_told = head.moves && is_told(measurement);
  picture.home_cents = cents_between(measurement.settings.tuning.a4_hz, picture.compromise->home_a4_hz);
  picture.is_out_of_fully_in = measurement.places.has_value();
  if (measurement.places) picture.at_mm = measurement.places->at_mm;
  const double fully_in_mm = picture.is_out_of_fully_in ? 0 : -head.out_mm.value_or(0);
  if (picture.is_out_of_fully_in || head.out_mm) {
    picture.fully_in_mm = fully_in_mm;
    if (head.travel_mm) picture.end_mm = fully_in_mm + *head.travel_mm;
  }
  for (std::size_t at = 0; at < measurement.breath.notes.size(); ++at)
    picture.notes.push_back(pictured_note(measurement, at, picture.found[at]));
  return picture;
}

std::optional<BlowReading> mean_of_blow(const Measurement& measurement, const NoteId& note, Blow blow) {
  const BreathResult& breath = measurement.breath;
  BlowReading sum;
  int holds = 0;
  for (std::size_t h = 0; h < measurement.naming.holds.size(); ++h) {
    const NamedHold& named = measurement.naming.holds[h];
    if (named.note != note || !breath.used[h] || breath.blow[h] != blow) continue;
    sum = {sum.level_db + rounded(named.hold.level_db), sum.cents + named.deviation_cents + breath.correction_cents[h]};
    ++holds;
  }
  if (holds == 0) return std::nullopt;
  return BlowReading{sum.level_db / holds, sum.cents / holds};
}

BlowLevels blow_levels(const Measurement& measurement, const NoteId& note) {
  const auto level_db = [&](Blow blow) {
    const auto mean = mean_of_blow(measurement, note, blow);
    return mean ? std::optional(mean->level_db) : std::nullopt;
  };
  return {level_db(Blow::soft), level_db(Blow::moderate), level_db(Blow::hard)};
}

bool is_told(const Measurement& measurement) { return measurement.places || !stays(*measurement.compromise); }

double asked_cents(const PicturedNote& note, double slide_mm) {
  return -slide_change_cents(note.found.effective_length_mm, slide_mm, note.found.slide_factor);
}

std::string reach_doubt_in_words(const PicturedNote& note) {
  return note.is_assumed ? "; how far the breath bends it was not measured" : "";
}

bool any_reach_measured(const Pictured& pictured) {
  return std::ranges::any_of(pictured.notes, [](const PicturedNote& note) {
    return note.read->reach_soft_cents || note.read->reach_hard_cents;
  });
}

}  // namespace windway
