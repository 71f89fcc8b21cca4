// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/truth.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

// The definition of effort and cost (lib/slide/effort.hpp), repeated on purpose: the truth must not follow a mistake.
constexpr double least_reach_cents = 5.0;
constexpr double knee = 2.0;  // effort from which the cost grows evenly

double reach_cents(const TrueNote& note, double residual_cents) {
  if (!note.spread_cents) return least_reach_cents;
  const double reach =
      residual_cents > 0.0 ? note.moderate_cents - *note.soft_cents : *note.hard_cents - note.moderate_cents;
  return std::max(least_reach_cents, reach);
}

double huber(double effort) { return effort <= knee ? effort * effort : knee * (2.0 * effort - knee); }

double note_slide_cents(const TrueNote& note, double slide_mm) {
  const double now_hz = hz_at_cents(note.target_hz, note.moderate_cents);
  return slide_cents(effective_length_mm(note.register_number, now_hz), slide_mm);
}

TrueNote true_note(const FluteModel& flute, int midi, const std::set<Blow>& blows, const Strengths& strengths,
                   double warmed_cents) {
  const NoteModel& model = note_of(flute, midi);
  const auto at = [&](double doublings) { return cents_at(model, doublings) + warmed_cents; };
  const bool swell = blows.contains(Blow::swell);
  TrueNote note;
  note.midi = midi;
  note.register_number = model.register_number;
  note.target_hz = target_hz(flute, midi);
  note.moderate_cents = at(swell ? 0.5 * (strengths.soft + strengths.hard) : 0.0);
  if (swell || (blows.contains(Blow::soft) && blows.contains(Blow::hard))) {
    note.soft_cents = at(strengths.soft);
    note.hard_cents = at(strengths.hard);
    note.spread_cents = *note.hard_cents - *note.soft_cents;
    if (!swell && !blows.contains(Blow::moderate)) note.moderate_cents = 0.5 * (*note.soft_cents + *note.hard_cents);
  }
  return note;
}

}  // namespace

std::vector<TrueNote> true_notes(const FluteModel& flute, const std::vector<Blowing>& blowings,
                                 const Strengths& strengths, double warmed_cents) {
  std::map<int, std::set<Blow>> blows_of;
  for (const Blowing& b : blowings) blows_of[b.midi].insert(b.blow);
  std::vector<TrueNote> notes;
  for (const auto& [midi, blows] : blows_of) notes.push_back(true_note(flute, midi, blows, strengths, warmed_cents));
  return notes;
}

double mean_cost(const std::vector<TrueNote>& notes, double slide_mm, double a4_cents) {
  double sum = 0.0, weights = 0.0;
  for (const TrueNote& note : notes) {
    const double residual = note.moderate_cents + note_slide_cents(note, slide_mm) - a4_cents;
    sum += note.weight * huber(std::abs(residual) / reach_cents(note, residual));
    weights += note.weight;
  }
  return sum / weights;
}

LeastCost least_cost(const std::vector<TrueNote>& notes, double from_mm, double to_mm) {
  LeastCost best{from_mm, 0.0, mean_cost(notes, from_mm, 0.0)};
  const auto steps = static_cast<int>(std::lround((to_mm - from_mm) * 100.0));
  for (int i = 1; i <= steps; ++i) {
    const double mm = from_mm + i / 100.0;
    const double cost = mean_cost(notes, mm, 0.0);
    if (cost < best.cost) best = {mm, 0.0, cost};
  }
  for (const TrueNote& note : notes) best.shift_cents += note_slide_cents(note, best.slide_mm);
  best.shift_cents /= static_cast<double>(notes.size());
  return best;
}

double home_a4_hz(const std::vector<TrueNote>& notes, double a4_hz) {
  double best_cents = 0.0;
  double best_cost = mean_cost(notes, 0.0, 0.0);
  for (int i = -2400; i <= 2400; ++i) {
    const double cost = mean_cost(notes, 0.0, i / 20.0);
    if (cost >= best_cost) continue;
    best_cost = cost;
    best_cents = i / 20.0;
  }
  return hz_at_cents(a4_hz, best_cents);
}

}  // namespace windway::synthesis
