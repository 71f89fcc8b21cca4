// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/history.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "bench/bench_tally.hpp"
#include "breath/response/wander.hpp"
#include "slide/law_of_slide.hpp"
#include "slide/slide.hpp"
#include "units/coverage_factor.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

CentsEstimate difference(const CentsEstimate& before, const CentsEstimate& after) {
  return {after.cents - before.cents, std::hypot(before.u95_cents, after.u95_cents)};
}

/// What moving the head from one place to the other did to a note, cents.
double head_change_cents(const EntryNote& before, double drawn_out_mm) {
  if (!before.effective_length_mm || drawn_out_mm == 0) return 0;
  return slide_change_cents(*before.effective_length_mm, drawn_out_mm);
}

/// `target_rise_cents`: deviations are from targets, and those move where another A4 is asked for.
NoteStep step_of(const EntryNote& before, const EntryNote& after, double drawn_out_mm, double target_rise_cents) {
  NoteStep step{before.id, difference(before.moderate, after.moderate), false, std::nullopt};
  const double by_head_cents = head_change_cents(before, drawn_out_mm);
  step.change.cents += target_rise_cents - by_head_cents;
  step.change.u95_cents = std::hypot(step.change.u95_cents, law_u95_share(Head{}) * by_head_cents);
  if (before.spread && after.spread) step.spread_change = difference(*before.spread, *after.spread);
  return step;
}

/// How surely a change is told that was measured within `measured_u95_cents`.
double change_u95_cents(double measured_u95_cents, double common_cents, const std::optional<BenchRepeat>& repeat) {
  if (repeat) return std::max(measured_u95_cents, std::hypot(repeat->note_u95_cents, repeat->whole_u95_cents));
  const double unseen_u95_cents = normal_u95_factor * std::sqrt(2 * unseen_variance_cents2);
  return std::hypot(measured_u95_cents, unseen_u95_cents, common_cents);
}

HistoryStep step_between(const History& history, std::size_t before, std::size_t after) {
  const BenchEntry& earlier = history.takes[before];
  const BenchEntry& later = history.takes[after];
  HistoryStep step;
  step.before = before;
  step.after = after;
  step.air_differs = earlier.air_c != later.air_c;
  step.head_allowed_for = earlier.head_out_mm && later.head_out_mm;
  const double drawn_out_mm = step.head_allowed_for ? *later.head_out_mm - *earlier.head_out_mm : 0.0;
  const double target_rise_cents = cents_between(earlier.a4_hz, later.a4_hz);
  std::vector<double> changes;
  for (const EntryNote& note : earlier.notes) {
    const auto same = std::ranges::find(later.notes, note.id, &EntryNote::id);
    if (same == later.notes.end()) continue;
    step.notes.push_back(step_of(note, *same, drawn_out_mm, target_rise_cents));
    changes.push_back(step.notes.back().change.cents);
  }
  step.common_cents = median_of(changes).value_or(0.0);
  for (NoteStep& note : step.notes) {
    note.change.u95_cents = change_u95_cents(note.change.u95_cents, step.common_cents, history.repeat);
    note.is_real = std::abs(note.change.cents) > note.change.u95_cents;
  }
  return step;
}

}  // namespace

std::optional<BenchRepeat> bench_repeat(const Repeatability& repeats) {
  const auto note_u95_cents = repeats.note_u95_cents();
  const auto whole = repeatability_sd(repeats.home_sums());
  if (!note_u95_cents || !whole) return std::nullopt;
  return BenchRepeat{*note_u95_cents,
                     u95_factor(static_cast<double>(whole->degrees)) * std::numbers::sqrt2 * whole->sd};
}

History history_of(std::vector<BenchEntry> takes, const std::optional<BenchRepeat>& repeat) {
  std::ranges::stable_sort(takes, {}, [](const BenchEntry& take) { return take.recorded_at.value_or(""); });
  History history{std::move(takes), {}, repeat};
  std::optional<std::size_t> before;
  for (std::size_t i = 0; i < history.takes.size(); ++i) {
    const BenchEntry& take = history.takes[i];
    if (!take.counting.counts || !is_usable(take)) continue;
    if (before) history.steps.push_back(step_between(history, *before, i));
    before = i;
  }
  return history;
}

}  // namespace windway
