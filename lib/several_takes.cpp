// SPDX-License-Identifier: GPL-3.0-or-later
#include "several_takes.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "agreement/agreement_warnings.hpp"
#include "breath/as_asked.hpp"
#include "input/input_file.hpp"
#include "slide/warming.hpp"

namespace windway {
namespace {

Compromise compromise_of_notes(const Measurement& found, const std::vector<NoteBreath>& notes) {
  const MeasureSettings& settings = found.settings;
  const double a4_hz = settings.tuning.a4_hz;
  Compromise compromise =
      find_compromise(notes, settings.head, a4_hz, found.speed_of_sound_m_s, found.breath.repeat_db);
  if (!settings.a4_u95_hz) return compromise;
  return with_doubtful_reference(std::move(compromise), cents_between(a4_hz, a4_hz + *settings.a4_u95_hz));
}

void add_move_of_each(Measurement& found, const std::vector<TakeNotes>& takes) {
  if (!found.settings.head.moves) return;
  for (TakeOffset& offset : found.agreement->takes) {
    const auto own = std::ranges::find(takes, offset.take, &TakeNotes::take);
    if (own->notes.size() < 2) continue;
    const Compromise compromise = compromise_of_notes(found, as_asked(own->notes, found.settings));
    offset.slide_mm = compromise.slide_mm;
    offset.slide_u95_mm = slide_u95_mm(compromise);
  }
}

TakesInWords in_words(const Measurement& found) {
  TakesInWords words{{}, found.naming.instrument, found.settings.air, {}, found.settings.head.moves};
  if (found.places) words.common_place_mm = found.places->at_mm;
  for (const TakeInfo& take : found.takes) words.names.push_back(take_name(take.path));
  return words;
}

}  // namespace

std::vector<TakeNotes> brought_to_one_place(Measurement& found) {
  std::vector<TakeNotes> takes = notes_by_take(found.naming, found.settings.blows);
  Head& head = found.settings.head;
  const std::vector<double>& out_mm = found.settings.head_out_mm_of_takes;
  if (out_mm.empty()) return takes;
  head.out_mm = out_mm.front();
  if (!are_several_places(out_mm)) return takes;
  const double sound_m_s = speed_of_sound_m_s(found.settings.air);
  found.places = fit_places(takes, out_mm, head, sound_m_s);
  const SlideFactor factor = factor_taken(*found.places, head);
  if (found.places->factor_is_telling) head.factor = factor;
  head.out_mm = found.places->at_mm;
  found.naming = brought_together(std::move(found.naming), *found.places, factor.factor, sound_m_s);
  return brought_together(std::move(takes), *found.places, factor.factor, sound_m_s);
}

Warnings cold_take_warnings(const Measurement& found, const std::vector<TakeNotes>& takes) {
  Warnings warnings;
  if (const auto warning = not_warm_yet(found.breath.drift)) warnings.push_back(*warning);
  for (const TakeNotes& take : takes)
    if (const auto warning = not_warm_yet(take.drift)) {
      const std::string& path = found.takes[static_cast<std::size_t>(take.take)].path;
      warnings.push_back({warning->code, take_name(path) + ": " + warning->message});
    }
  return warnings;
}

void compare_takes(Measurement& found, const std::vector<TakeNotes>& takes) {
  if (takes.size() < 2) return;
  const Head& head = found.settings.head;
  const SlideFactor factor = head.factor.value_or(SlideFactor{1.0, law_u95_share(head)});
  found.agreement = take_agreement(takes, speed_of_sound_m_s(found.settings.air), found.places, factor);
  if (!found.agreement) return found.warnings.push_back(no_common_note());
  if (!found.agreement->agree) add_move_of_each(found, takes);
  std::ranges::move(agreement_warnings(*found.agreement, in_words(found)), std::back_inserter(found.warnings));
}

std::vector<NoteBreath> as_asked(std::vector<NoteBreath> notes, const MeasureSettings& settings) {
  const double warmer_cents = air_change_cents(settings.air, quoted_air(settings));
  return weighted(shifted(std::move(notes), warmer_cents), settings.weights);
}

BreathResult as_asked(BreathResult breath, const MeasureSettings& settings) {
  const double warmer_cents = air_change_cents(settings.air, quoted_air(settings));
  for (double& cents : breath.correction_cents) cents += warmer_cents;
  breath.notes = as_asked(std::move(breath.notes), settings);
  return breath;
}

Compromise compromise_of(const Measurement& found) {
  Compromise compromise = compromise_of_notes(found, found.breath.notes);
  if (!found.agreement) return compromise;
  return with_doubtful_reference(std::move(compromise), found.agreement->pooled_u95_cents);
}

}  // namespace windway
