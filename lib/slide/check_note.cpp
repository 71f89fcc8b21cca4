// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/check_note.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "slide/law_of_slide.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

/// Where no note's answer to the breath is known: notes with few fingers down move more than the lowest (common
/// practice, no source). The size is an estimate of our own; only the order of the notes depends on it.
constexpr double longest_note_cents_per_db = 2.0;

/// A player judges how far a note lies off a drone to about a third of that, SD (an estimate of our own): a note
/// without beats is set by surely, one that has to beat is not.
constexpr double judged_offset_share = 1.0 / 3.0;

/// What makes one note serve worse than another, the gravest first: a hole half covered, a pitch that the breath cannot
/// bring to the target, a higher register (loud, and quick to overblow), the u95 of the head set by it.
using Fitness = std::tuple<bool, bool, int, double>;

double unmeasured_cents_per_db(double length_mm, double longest_mm) {
  const double shortness = longest_mm / length_mm;
  return longest_note_cents_per_db * shortness * shortness;
}

std::optional<double> median_cents_per_db(const std::vector<NoteBreath>& notes) {
  std::vector<double> measured;
  for (const NoteBreath& note : notes) {
    if (note.cents_per_db) measured.push_back(note.cents_per_db->cents);
  }
  return median_of(std::move(measured));
}

}  // namespace

CheckNote check_note(const std::vector<NoteBreath>& notes, const std::vector<SlideNote>& found, double slide_mm,
                     std::optional<double> repeat_db) {
  const std::optional<double> median = median_cents_per_db(notes);
  double longest_mm = 0;
  for (const SlideNote& note : found) longest_mm = std::max(longest_mm, note.effective_length_mm);
  std::optional<CheckNote> best;
  Fitness best_fitness{};
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const double length_mm = found[i].effective_length_mm;
    const double residual = residual_cents(found[i], slide_mm);
    const double cents_per_db = notes[i].cents_per_db ? notes[i].cents_per_db->cents
                                                      : median.value_or(unmeasured_cents_per_db(length_mm, longest_mm));
    const double breath_u95_cents = normal_u95_factor * cents_per_db * repeat_db.value_or(usual_repeat_db);
    const double judged_u95_cents = normal_u95_factor * judged_offset_share * residual;
    const double u95_mm = slide_mm_per_cent(length_mm, found[i].slide_factor) *
                          std::hypot(notes[i].moderate.u95_cents, breath_u95_cents, judged_u95_cents);
    const Fitness fitness{!notes[i].can_check, effort(found[i], residual) > 1.0, notes[i].register_number, u95_mm};
    if (best && best_fitness <= fitness) continue;
    best = CheckNote{notes[i].id, residual, u95_mm};
    best_fitness = fitness;
  }
  return best.value_or(CheckNote{});
}

}  // namespace windway
