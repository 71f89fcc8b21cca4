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
#include "units/units.hpp"

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

/// By how much all notes rose (or fell, -) during the take, where no warming explains it; 0 else.
double unexplained_drift_cents(const Measurement& found) {
  const bool drifted = find_warning(found.warnings, WarningCode::pitch_drifted) && found.breath.drift;
  return drifted ? found.breath.drift->over_take_cents : 0.0;
}

/// The notes are given as at the end of the take. Wide enough for the move that they ask for as they were at its start.
Compromise spanning_drift(Compromise compromise, const Measurement& found, double drift_cents) {
  std::vector<NoteBreath> at_start = found.breath.notes;
  for (NoteBreath& note : at_start) note = shifted(std::move(note), -drift_cents);
  compromise.slide_u95_mm += std::abs(compromise_of_notes(found, at_start).slide_mm - compromise.slide_mm);
  compromise.shift_u95_cents += std::abs(drift_cents);
  for (MovedNote& note : compromise.notes) note.u95_cents += std::abs(drift_cents);
  return compromise;
}

/// Are these two readings of one blow? A note blown again lies further off in pitch, or is not as long, or both.
bool is_same_blow(const Hold& one, const Hold& other) {
  constexpr double most_cents = 0.03, most_s = 0.03;  // what coding a recording anew changes
  return std::abs(cents_between(one.frequency_hz, other.frequency_hz)) < most_cents &&
         std::abs((one.end_s - one.start_s) - (other.end_s - other.start_s)) < most_s;
}

/// Are most blows of the one take among those of the other?
bool is_same_sound(const std::vector<Hold>& holds, int take, int other) {
  constexpr std::size_t least_holds = 3;
  std::size_t all = 0, found = 0;
  for (const Hold& one : holds) {
    if (one.take != take) continue;
    ++all;
    found +=
        std::ranges::any_of(holds, [&](const Hold& each) { return each.take == other && is_same_blow(one, each); });
  }
  return found >= least_holds && 4 * found >= 3 * all;
}

}  // namespace

void refuse_same_sound(const std::vector<TakeInfo>& takes, const std::vector<Hold>& holds) {
  for (int take = 1; take < static_cast<int>(takes.size()); ++take)
    for (int other = 0; other < take; ++other)
      if (is_same_sound(holds, take, other) || is_same_sound(holds, other, take))
        throw Error(ErrorKind::usage, takes[static_cast<std::size_t>(take)].path + " holds the same sound as " +
                                          takes[static_cast<std::size_t>(other)].path +
                                          ", so it tells nothing new; leave one of them out");
}

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
  const bool is_said_warm = found.settings.blows.is_warm;
  if (const auto warning = drift_warning(found.breath.drift, is_said_warm)) warnings.push_back(*warning);
  for (const TakeNotes& take : takes)
    if (const auto warning = drift_warning(take.drift, is_said_warm)) {
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
  if (const double cents = unexplained_drift_cents(found); cents != 0)
    return spanning_drift(std::move(compromise), found, cents);
  if (!found.agreement) return compromise;
  return with_doubtful_reference(std::move(compromise), found.agreement->pooled_u95_cents);
}

}  // namespace windway
