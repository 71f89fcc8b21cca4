// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/moved_note.hpp"

#include <cmath>

#include "slide/law_of_slide.hpp"

namespace windway {
namespace {

// What needs no thought of the player: common practice, no source.
constexpr double unheard_cents = 3.0;
constexpr double slight_effort = 0.2;

BreathAdvice breath_advice(double cents, double effort, bool reach_measured) {
  if (std::abs(cents) <= unheard_cents || effort <= slight_effort) return BreathAdvice::as_it_is;
  if (effort > 1.0 && reach_measured) return BreathAdvice::out_of_reach;
  return cents > 0 ? BreathAdvice::softer : BreathAdvice::harder;
}

}  // namespace

MovedNote moved_note(const NoteBreath& note, const SlideNote& found, double slide_mm) {
  MovedNote out;
  out.cents = residual_cents(found, slide_mm);
  out.effort = effort(found, out.cents);
  const bool reach_measured = (out.cents > 0 ? note.reach_soft_cents : note.reach_hard_cents).has_value();
  out.breath = breath_advice(out.cents, out.effort, reach_measured);
  if (out.breath != BreathAdvice::as_it_is) {
    if (reach_measured) out.breath_share = out.effort;
    // A response that falls with the level is noise, and no advice can be drawn from it.
    if (note.cents_per_db && note.cents_per_db->cents > 0) out.breath_db = -out.cents / note.cents_per_db->cents;
  }
  out.beats_hz = std::abs(hz_at_cents(note.target_hz, out.cents) - note.target_hz);
  out.reach_soft_cents = found.reach_soft_cents;
  out.reach_hard_cents = found.reach_hard_cents;
  out.effective_length_mm = found.effective_length_mm;
  out.cents_per_mm = slide_cents_per_mm(found.effective_length_mm, found.slide_factor);
  return out;
}

std::vector<MovedNote> with_reaches(std::vector<MovedNote> notes, const std::vector<SlideNote>& found) {
  for (std::size_t note = 0; note < notes.size(); ++note) {
    notes[note].reach_soft_cents = found[note].reach_soft_cents;
    notes[note].reach_hard_cents = found[note].reach_hard_cents;
  }
  return notes;
}

}  // namespace windway
