// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/history.hpp"

#include <algorithm>
#include <cmath>

#include "bench/bench_tally.hpp"
#include "slide/law_of_slide.hpp"
#include "slide/slide.hpp"
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
  step.is_real = std::abs(step.change.cents) > step.change.u95_cents;
  if (before.spread && after.spread) step.spread_change = difference(*before.spread, *after.spread);
  return step;
}

HistoryStep step_between(const std::vector<BenchEntry>& takes, std::size_t before, std::size_t after) {
  HistoryStep step{before, after, false, takes[before].air_c != takes[after].air_c, {}};
  const auto& out_before = takes[before].head_out_mm;
  const auto& out_after = takes[after].head_out_mm;
  step.head_allowed_for = out_before && out_after;
  const double drawn_out_mm = step.head_allowed_for ? *out_after - *out_before : 0.0;
  const double target_rise_cents = cents_between(takes[before].a4_hz, takes[after].a4_hz);
  for (const EntryNote& note : takes[before].notes) {
    const auto& later = takes[after].notes;
    const auto same = std::ranges::find(later, note.id, &EntryNote::id);
    if (same != later.end()) step.notes.push_back(step_of(note, *same, drawn_out_mm, target_rise_cents));
  }
  return step;
}

}  // namespace

History history_of(std::vector<BenchEntry> takes) {
  std::ranges::stable_sort(takes, {}, [](const BenchEntry& take) { return take.recorded_at.value_or(""); });
  History history{std::move(takes), {}};
  std::optional<std::size_t> before;
  for (std::size_t i = 0; i < history.takes.size(); ++i) {
    const BenchEntry& take = history.takes[i];
    if (!take.counts || !is_usable(take)) continue;
    if (before) history.steps.push_back(step_between(history.takes, *before, i));
    before = i;
  }
  return history;
}

}  // namespace windway
