// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/slide.hpp"

#include <cassert>
#include <cmath>

#include "slide/check_note.hpp"
#include "slide/effort.hpp"
#include "slide/least_cost.hpp"
#include "slide/moved_note.hpp"
#include "slide/slide_uncertainty.hpp"
#include "slide/slide_warnings.hpp"
#include "slide/steady_blow.hpp"

namespace windway {
namespace {

/// How well the cents-per-mm law holds on an instrument that it has not been calibrated on: the step that a drawn
/// joint leaves in the bore (N. H. Fletcher & T. D. Rossing, The Physics of Musical Instruments (1998), sec. 8.10).
constexpr double model_share = 0.05;

/// The A4 at which the scale is at home with the head moved so far.
double home_a4_hz(const std::vector<SlideNote>& notes, double slide_mm, double a4_hz) {
  return hz_at_cents(a4_hz, home_shift_cents(notes, slide_mm));
}

std::vector<MovedNote> moved_notes(const std::vector<NoteBreath>& notes, const std::vector<SlideNote>& found,
                                   double slide_mm, const std::vector<double>& u95_cents) {
  std::vector<MovedNote> out;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    out.push_back(moved_note(notes[i], found[i], slide_mm));
    out.back().u95_cents = u95_cents[i];
  }
  return out;
}

}  // namespace

double slide_u95_mm(const Compromise& compromise) {
  return std::hypot(compromise.slide_u95_mm, compromise.slide_model_u95_mm);
}

std::optional<double> end_a4_hz(const Compromise& compromise) {
  if (compromise.limit == SlideLimit::fully_in) return compromise.highest_a4_hz;
  return compromise.limit == SlideLimit::travel ? compromise.lowest_a4_hz : std::nullopt;
}

double law_u95_share(const Head& head) { return head.factor ? head.factor->u95 / head.factor->factor : model_share; }

Head known_head(Head head, const Instrument& instrument) {
  head.moves = head.moves && instrument.head_moves;
  if (!head.travel_mm) head.travel_mm = instrument.travel_mm;
  if (!head.factor) head.factor = instrument.slide_factor;
  return head;
}

Compromise find_compromise(const std::vector<NoteBreath>& notes, const Head& head, double a4_hz,
                           double speed_of_sound_m_s, std::optional<double> repeat_db) {
  assert(!notes.empty() && a4_hz > 0 && speed_of_sound_m_s > 0);
  const double factor = head.factor ? head.factor->factor : 1.0;
  const std::vector<SlideNote> found = slide_notes(notes, speed_of_sound_m_s, factor);
  const HeadSpan span = head_span(head, found);
  Compromise out;
  out.slide_mm = least_cost_slide_mm(found, span);
  out.limit = limit_met(found, span, out.slide_mm);
  out.shift_cents = mean_change_cents(found, out.slide_mm);
  out.cost_before = mean_cost(found, 0);
  out.cost_after = mean_cost(found, out.slide_mm);

  const SlideUncertainty uncertainty = slide_uncertainty(notes, speed_of_sound_m_s, span, out.slide_mm, factor);
  out.slide_u95_mm = uncertainty.slide_u95_mm;
  out.shift_u95_cents = uncertainty.shift_u95_cents;
  out.slide_model_u95_mm = law_u95_share(head) * std::abs(out.slide_mm);

  const double home_cents = home_shift_cents(found, 0);
  out.home_a4_hz = hz_at_cents(a4_hz, home_cents);
  if (head.moves && head.out_mm) out.highest_a4_hz = home_a4_hz(found, -*head.out_mm, a4_hz);
  if (head.moves && head.out_mm && head.travel_mm) {
    out.lowest_a4_hz = home_a4_hz(found, *head.travel_mm - *head.out_mm, a4_hz);
  }
  if (out.limit) out.steady_blow = steady_blow(notes, found, out.slide_mm);
  out.notes = moved_notes(notes, found, out.slide_mm, uncertainty.moved_u95_cents);
  out.check_note = check_note(notes, found, out.slide_mm, repeat_db);
  out.warnings = slide_warnings(out, head, a4_hz, home_cents, home_shift_cents(found, out.slide_mm));
  return out;
}

Compromise with_doubtful_reference(Compromise compromise, double a4_u95_cents) {
  double cents_per_mm = 0;
  for (MovedNote& note : compromise.notes) {
    note.u95_cents = std::hypot(note.u95_cents, a4_u95_cents);
    cents_per_mm += note.cents_per_mm / static_cast<double>(compromise.notes.size());
  }
  compromise.shift_u95_cents = std::hypot(compromise.shift_u95_cents, a4_u95_cents);
  compromise.slide_u95_mm = std::hypot(compromise.slide_u95_mm, a4_u95_cents / cents_per_mm);
  return compromise;
}

}  // namespace windway
