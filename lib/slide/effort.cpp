// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/effort.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "slide/law_of_slide.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

using ReachOf = std::optional<double> NoteBreath::*;

double at_least(double reach_cents) { return std::max(least_reach_cents, reach_cents); }

/// The reach of a note that has none of its own.
double reach_of_others_cents(const std::vector<NoteBreath>& notes, ReachOf reach) {
  std::vector<double> measured;
  for (const NoteBreath& note : notes) {
    if (note.*reach) measured.push_back(at_least(*(note.*reach)));
  }
  return median_of(std::move(measured)).value_or(least_reach_cents);
}

double effective_length_mm(const NoteBreath& note, double speed_of_sound_m_s) {
  const double frequency_hz = hz_at_cents(note.target_hz, note.moderate.cents);
  return 1000.0 * note.register_number * speed_of_sound_m_s / (2.0 * frequency_hz);
}

double cost_of_effort(double e) { return e <= effort_knee ? e * e : effort_knee * (2.0 * e - effort_knee); }

/// How fast a note's cost grows with its residual, per cent.
double cost_slope_by_residual(const SlideNote& note, double r_cents) {
  const double slope = 2.0 * std::min(effort(note, r_cents), effort_knee);
  return r_cents > 0 ? slope / note.reach_soft_cents : -slope / note.reach_hard_cents;
}

template <typename Value>
double weighted_mean(const std::vector<SlideNote>& notes, Value value) {
  double sum = 0;
  double weights = 0;
  for (const SlideNote& note : notes) {
    sum += note.weight * value(note);
    weights += note.weight;
  }
  return sum / weights;
}

}  // namespace

std::vector<SlideNote> slide_notes(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s,
                                   double slide_factor) {
  const double other_soft_cents = reach_of_others_cents(notes, &NoteBreath::reach_soft_cents);
  const double other_hard_cents = reach_of_others_cents(notes, &NoteBreath::reach_hard_cents);
  const bool weighted = std::any_of(notes.begin(), notes.end(), [](const NoteBreath& n) { return n.weight > 0; });
  std::vector<SlideNote> out;
  out.reserve(notes.size());
  for (const NoteBreath& note : notes) {
    assert(note.weight >= 0 && note.target_hz > 0 && note.register_number > 0);
    out.push_back({note.moderate.cents, effective_length_mm(note, speed_of_sound_m_s),
                   at_least(note.reach_soft_cents.value_or(other_soft_cents)),
                   at_least(note.reach_hard_cents.value_or(other_hard_cents)), weighted ? note.weight : 1.0,
                   slide_factor});
  }
  return out;
}

double change_cents(const SlideNote& note, double slide_mm) {
  return slide_change_cents(note.effective_length_mm, slide_mm, note.slide_factor);
}

double residual_cents(const SlideNote& note, double slide_mm, double target_shift_cents) {
  return note.moderate_cents - target_shift_cents + change_cents(note, slide_mm);
}

double effort(const SlideNote& note, double residual_cents) {
  return residual_cents > 0 ? residual_cents / note.reach_soft_cents : -residual_cents / note.reach_hard_cents;
}

double mean_cost(const std::vector<SlideNote>& notes, double slide_mm) {
  return weighted_mean(notes,
                       [&](const SlideNote& n) { return cost_of_effort(effort(n, residual_cents(n, slide_mm))); });
}

double cost_slope_per_mm(const std::vector<SlideNote>& notes, double slide_mm) {
  return weighted_mean(notes, [&](const SlideNote& n) {
    const double cents_per_mm = slide_cents_per_mm(n.effective_length_mm + slide_mm, n.slide_factor);
    return -cents_per_mm * cost_slope_by_residual(n, residual_cents(n, slide_mm));
  });
}

double cost_slope_per_cent(const std::vector<SlideNote>& notes, double slide_mm, double target_shift_cents) {
  return weighted_mean(notes, [&](const SlideNote& n) {
    return -cost_slope_by_residual(n, residual_cents(n, slide_mm, target_shift_cents));
  });
}

TruePlaces true_places(const SlideNote& note) {
  const auto place_mm = [&](double read_cents) {
    return slide_for_change_mm(note.effective_length_mm, -read_cents, note.slide_factor);
  };
  return {place_mm(note.moderate_cents - note.reach_soft_cents), place_mm(note.moderate_cents),
          place_mm(note.moderate_cents + note.reach_hard_cents)};
}

std::vector<PlaceCost> cost_curve(const std::vector<SlideNote>& notes, double from_mm, double to_mm, int points) {
  assert(points >= 2);
  std::vector<PlaceCost> curve;
  for (int point = 0; point < points; ++point) {
    const double slide_mm = from_mm + (to_mm - from_mm) * point / (points - 1);
    curve.push_back({slide_mm, mean_cost(notes, slide_mm)});
  }
  return curve;
}

double mean_change_cents(const std::vector<SlideNote>& notes, double slide_mm) {
  return weighted_mean(notes, [&](const SlideNote& n) { return change_cents(n, slide_mm); });
}

}  // namespace windway
