// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/pictured.hpp"

#include <algorithm>

#include "report/measurement/advice.hpp"
#include "report/wording/spelling.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

PicturedNote pictured_note(const Measurement& measurement, std::size_t at, const SlideNote& found) {
  const NoteBreath& note = measurement.breath.notes[at];
  return {spelt_for_people(note.id, measurement),
          note.register_number > 1,
          !note.reach_soft_cents || !note.reach_hard_cents,
          found,
          true_places(found),
          &note,
          &measurement.compromise->notes[at]};
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

bool any_reach_measured(const Pictured& pictured) {
  return std::ranges::any_of(pictured.notes, [](const PicturedNote& note) { return !note.is_assumed; });
}

}  // namespace windway
