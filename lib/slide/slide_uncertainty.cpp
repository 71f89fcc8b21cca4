// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/slide_uncertainty.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <utility>

#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr int draws = 400;  // the 95 % point then repeats to about 5 % of itself
constexpr double coverage = 0.95;
constexpr std::uint64_t seed = 20240229, warming_seed = 20240301, midway_seed = 20240302;  // any fixed numbers
/// Of two strengths it is not known where between them moderate is: in the middle third, this u95 says (an estimate of
/// our own), share of the spread.
constexpr double midway_u95_share = 1.0 / 6.0;

/// Standard normal numbers by Box & Muller (1958); std::normal_distribution differs between standard libraries.
class NormalDraws {
 public:
  explicit NormalDraws(std::uint64_t from) : generator_(from) {}

  double next() {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    return radius * std::cos(2.0 * std::numbers::pi * uniform());
  }

 private:
  double uniform() { return static_cast<double>(generator_() >> 11) * 0x1p-53; }
  std::mt19937_64 generator_;
};

double drawn_error_cents(const std::optional<CentsEstimate>& estimate, NormalDraws& normal) {
  const double standard = normal.next();  // drawn in any case: a note's numbers do not depend on the others'
  return estimate ? standard * estimate->u95_cents / normal_u95_factor : 0.0;
}

/// Moderate as surely as one blow tells it.
CentsEstimate astray(const NoteBreath& note) {
  return {note.moderate.cents, std::hypot(note.moderate.u95_cents, note.stray_u95_cents.value_or(0.0))};
}

/// What errs on all notes alike in one draw: standard normal numbers.
struct CommonErrors {
  double warming = 0;
  double midway = 0;  ///< where moderate is between soft and hard
};

/// A flute that warms looks as if it bent more, half of it on either side of moderate, and is sharper in the end than
/// its notes were.
NoteBreath erring_in_common(NoteBreath note, const CommonErrors& common) {
  const double standard = common.warming / normal_u95_factor;
  const double bent_less_cents = 0.5 * standard * note.warming_u95_cents.value_or(0.0);
  note.moderate.cents += standard * note.later_warming_u95_cents.value_or(0.0);
  if (note.moderate_is_midway && note.spread) {
    const double farther_cents = common.midway / normal_u95_factor * midway_u95_share * note.spread->cents;
    note.moderate.cents += farther_cents;
    if (note.reach_soft_cents) *note.reach_soft_cents += farther_cents;
    if (note.reach_hard_cents) *note.reach_hard_cents -= farther_cents;
  }
  if (note.reach_soft_cents) *note.reach_soft_cents -= bent_less_cents;
  if (note.reach_hard_cents) *note.reach_hard_cents -= bent_less_cents;
  return note;
}

NoteBreath drawn_note(NoteBreath note, NormalDraws& normal, const CommonErrors& common) {
  const double soft_cents = drawn_error_cents(note.soft, normal);
  const double moderate_cents = drawn_error_cents(astray(note), normal);
  const double hard_cents = drawn_error_cents(note.hard, normal);
  note.moderate.cents += moderate_cents;
  if (note.reach_soft_cents) *note.reach_soft_cents += moderate_cents - soft_cents;
  if (note.reach_hard_cents) *note.reach_hard_cents += hard_cents - moderate_cents;
  return erring_in_common(std::move(note), common);
}

/// The distance from `value` within which 95 % of the draws lie.
double reach_of(std::vector<double> drawn, double value) {
  for (double& x : drawn) x = std::abs(x - value);
  // The k-th of n draws holds the next one with probability k / (n + 1).
  const auto draws_within = static_cast<std::size_t>(std::ceil(coverage * static_cast<double>(drawn.size() + 1)));
  return value_of_rank(std::move(drawn), draws_within - 1);
}

}  // namespace

SlideUncertainty slide_uncertainty(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s,
                                   const HeadSpan& span, double slide_mm, double slide_factor) {
  NormalDraws normal(seed), warmings(warming_seed), midways(midway_seed);
  std::vector<double> slides_mm;
  std::vector<double> shifts_cents;
  std::vector<std::vector<double>> moved_cents(notes.size());
  std::vector<NoteBreath> drawn = notes;
  for (int draw = 0; draw < draws; ++draw) {
    const CommonErrors common{warmings.next(), midways.next()};
    std::transform(notes.begin(), notes.end(), drawn.begin(),
                   [&](const NoteBreath& n) { return drawn_note(n, normal, common); });
    const std::vector<SlideNote> bendable = slide_notes(drawn, speed_of_sound_m_s, slide_factor);
    // The head may stand anywhere within the slide's interval, whatever the error of this one note: so each note goes
    // with the slide of the draw before. With its own, a lone note would seem to come out true for certain.
    const double head_mm = slides_mm.empty() ? slide_mm : slides_mm.back();
    for (std::size_t note = 0; note < notes.size(); ++note) {
      moved_cents[note].push_back(residual_cents(bendable[note], head_mm));
    }
    slides_mm.push_back(least_cost_slide_mm(bendable, span));
    shifts_cents.push_back(mean_change_cents(bendable, slides_mm.back()));
  }
  const std::vector<SlideNote> found = slide_notes(notes, speed_of_sound_m_s, slide_factor);
  SlideUncertainty out{reach_of(slides_mm, slide_mm), reach_of(shifts_cents, mean_change_cents(found, slide_mm)), {}};
  for (std::size_t note = 0; note < notes.size(); ++note) {
    out.moved_u95_cents.push_back(reach_of(moved_cents[note], residual_cents(found[note], slide_mm)));
  }
  return out;
}

}  // namespace windway
