// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/least_cost.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "slide/law_of_slide.hpp"

namespace windway {
namespace {

constexpr double search_mm = 60.0;    // no head of a hand-held flute moves farther
constexpr double grid_step_mm = 1.0;  // under the width of any dip of the cost: the least reach is 5 cents
constexpr double tolerance = 1e-9;    // mm or cents: far below what can be set or heard

/// Where `falling` turns from true to false, between `low` (taken as true) and `high` (taken as false).
template <typename Falling>
double turning_point(double low, double high, Falling falling) {
  while (high - low > tolerance) {
    const double middle = 0.5 * (low + high);
    (falling(middle) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// The part of the span where the least cost can lie: below it every note is sharp, above it every note is flat.
HeadSpan where_notes_differ(const std::vector<SlideNote>& notes, HeadSpan span) {
  double first_mm = span.highest_mm;
  double last_mm = span.lowest_mm;
  for (const SlideNote& note : notes) {
    const double in_tune_mm = slide_for_change_mm(note.effective_length_mm, -note.moderate_cents, note.slide_factor);
    first_mm = std::min(first_mm, in_tune_mm);
    last_mm = std::max(last_mm, in_tune_mm);
  }
  span.lowest_mm = std::clamp(first_mm, span.lowest_mm, span.highest_mm);
  span.highest_mm = std::clamp(last_mm, span.lowest_mm, span.highest_mm);
  return span;
}

double least_on_grid_mm(const std::vector<SlideNote>& notes, const HeadSpan& span, int steps) {
  double best_mm = span.lowest_mm;
  double best_cost = mean_cost(notes, best_mm);
  for (int step = 1; step <= steps; ++step) {
    const double mm = span.lowest_mm + (span.highest_mm - span.lowest_mm) * step / steps;
    const double cost = mean_cost(notes, mm);
    if (cost < best_cost) {
      best_cost = cost;
      best_mm = mm;
    }
  }
  return best_mm;
}

}  // namespace

HeadSpan head_span(const Head& head, const std::vector<SlideNote>& notes) {
  if (!head.moves) return {0, 0, SlideLimit::fixed_head, SlideLimit::fixed_head};
  HeadSpan span{-search_mm, search_mm, {}, {}};
  for (const SlideNote& note : notes) span.lowest_mm = std::max(span.lowest_mm, -0.5 * note.effective_length_mm);
  const std::optional<double> room_in_mm = head.out_mm ? head.out_mm : head.travel_mm;
  if (room_in_mm && -*room_in_mm >= span.lowest_mm) {
    span.lowest_mm = std::min(0.0, -*room_in_mm);
    span.at_lowest = SlideLimit::fully_in;
  }
  if (head.travel_mm && *head.travel_mm - head.out_mm.value_or(0) <= search_mm) {
    span.highest_mm = std::max(0.0, *head.travel_mm - head.out_mm.value_or(0));
    span.at_highest = SlideLimit::travel;
  }
  return span;
}

double least_cost_slide_mm(const std::vector<SlideNote>& notes, const HeadSpan& whole) {
  assert(!notes.empty() && whole.lowest_mm <= whole.highest_mm);
  const HeadSpan span = where_notes_differ(notes, whole);
  const double width_mm = span.highest_mm - span.lowest_mm;
  const int steps = std::max(1, static_cast<int>(std::ceil(width_mm / grid_step_mm)));
  const double near_mm = least_on_grid_mm(notes, span, steps);
  const double step_mm = width_mm / steps;
  const double slope = cost_slope_per_mm(notes, near_mm);
  const auto falling = [&](double mm) { return cost_slope_per_mm(notes, mm) < 0; };
  double best_mm = near_mm;
  if (slope < 0 && near_mm < span.highest_mm) {
    best_mm = turning_point(near_mm, std::min(near_mm + step_mm, span.highest_mm), falling);
  } else if (slope > 0 && near_mm > span.lowest_mm) {
    best_mm = turning_point(std::max(near_mm - step_mm, span.lowest_mm), near_mm, falling);
  }
  return best_mm;
}

std::optional<SlideLimit> limit_met(const std::vector<SlideNote>& notes, const HeadSpan& span, double slide_mm) {
  if (span.at_lowest == SlideLimit::fixed_head) return span.at_lowest;
  const double slope = cost_slope_per_mm(notes, slide_mm);
  if (slide_mm <= span.lowest_mm && slope > 0) return span.at_lowest;
  if (slide_mm >= span.highest_mm && slope < 0) return span.at_highest;
  return std::nullopt;
}

double home_shift_cents(const std::vector<SlideNote>& notes, double slide_mm) {
  double low_cents = residual_cents(notes.front(), slide_mm);
  double high_cents = low_cents;
  for (const SlideNote& note : notes) {
    low_cents = std::min(low_cents, residual_cents(note, slide_mm));
    high_cents = std::max(high_cents, residual_cents(note, slide_mm));
  }
  const auto slope = [&](double cents) { return cost_slope_per_cent(notes, slide_mm, cents); };
  // Two notes far apart, both beyond the knee, pull alike whatever lies between: the slope is 0 over a range.
  constexpr double no_slope = 1e-12;
  const double from_cents =
      turning_point(low_cents, high_cents, [&](double cents) { return slope(cents) < -no_slope; });
  const double to_cents = turning_point(low_cents, high_cents, [&](double cents) { return slope(cents) <= no_slope; });
  return 0.5 * (from_cents + to_cents);
}

}  // namespace windway
