// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/keeper_days.hpp"

#include <algorithm>
#include <cmath>

#include "bench/judged_anew.hpp"
#include "manifest/recorded_cell.hpp"
#include "slide/law_of_slide.hpp"
#include "statistics/moments.hpp"
#include "statistics/variance_components.hpp"
#include "units/coverage_factor.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

std::string date_of(const BenchEntry& entry) { return day_of(entry.recorded_at.value_or("")); }

/// Mean over the notes of what a move of 1 mm does to the pitch; 0 where no length is known.
double cents_per_mm(const BenchEntry& entry) {
  Moments cents;
  for (const EntryNote& note : entry.notes)
    if (note.effective_length_mm && note.weight > 0) add(cents, -slide_change_cents(*note.effective_length_mm, 1.0));
  return cents.mean;
}

CentsEstimate without(const CentsEstimate& value, const CentsEstimate& offset) {
  return {value.cents - offset.cents, std::hypot(value.u95_cents, offset.u95_cents)};
}

/// `share`: the offset in the criterion's unit, to be taken away.
void judge_without(BenchEntry& entry, Criterion criterion, const CentsEstimate& share) {
  for (EntryJudged& each : entry.judged)
    if (each.judged.criterion == criterion && each.judged.value)
      each = judged_again(each, *each.judged.value - share.cents, std::hypot(each.judged.u95, share.u95_cents));
}

void take_from_notes(BenchEntry& entry, const CentsEstimate& offset) {
  for (EntryNote& note : entry.notes)
    if (note.moved) note.moved = without(*note.moved, offset);
  judge_without(entry, Criterion::note, offset);
  entry.evenness_cents.reset();
  entry.work.clear();  // it was advised for the notes as they sounded
}

/// A flute that sounds sharp has its head drawn too far out for it.
void take_from_head(BenchEntry& entry, const CentsEstimate& offset, double per_mm) {
  const CentsEstimate in_mm{offset.cents / per_mm, offset.u95_cents / per_mm};
  *entry.head_rests_mm -= in_mm.cents;
  if (entry.slide_mm) *entry.slide_mm -= in_mm.cents;
  entry.slide_u95_mm = std::hypot(entry.slide_u95_mm, in_mm.u95_cents);
  entry.head_rests_u95_mm = std::hypot(entry.head_rests_u95_mm, in_mm.u95_cents);
  judge_without(entry, Criterion::head_place, in_mm);
}

/// The part of the offset that the notes show: all of it where the head is fixed; at an end of its way what keeps the
/// flute beyond that end; of a free head what would push it farther than fully in.
double part_of_notes_cents(const BenchEntry& entry, double offset_cents, double per_mm) {
  if (!entry.limit) {
    const double room_cents = entry.head_rests_mm ? *entry.head_rests_mm * per_mm : offset_cents;
    return std::max(offset_cents - room_cents, 0.0);
  }
  if (!entry.end_a4_hz) return offset_cents;
  const double beyond_cents = cents_between(entry.a4_hz, *entry.end_a4_hz);
  return beyond_cents < 0 ? std::max(offset_cents, beyond_cents) : std::min(offset_cents, beyond_cents);
}

/// What the head reaches at the end of its travel; nothing, once it is no longer held there.
void take_from_reach(BenchEntry& entry, const CentsEstimate& offset, bool is_still_held) {
  if (!entry.end_a4_hz) return;
  if (!is_still_held) {
    entry.limit.reset();
    entry.end_a4_hz.reset();
    std::erase_if(entry.judged,
                  [](const EntryJudged& each) { return each.judged.criterion == Criterion::reach_of_a4; });
    return;
  }
  entry.end_a4_hz = hz_at_cents(*entry.end_a4_hz, -offset.cents);
  entry.shift_u95_cents = std::hypot(entry.shift_u95_cents, offset.u95_cents);
  judge_without(entry, Criterion::reach_of_a4, offset);
}

}  // namespace

void KeeperDays::add(const BenchEntry& keeper) {
  const std::string date = date_of(keeper);
  if (!date.empty() && keeper.home_a4_hz) takes_.push_back({date, *keeper.home_a4_hz, keeper.shift_u95_cents});
}

KeeperOffsets KeeperDays::offsets() const {
  std::map<std::string, Moments> days;
  double measured_u95 = 0;
  for (const Take& take : takes_) {
    windway::add(days[take.date], cents_between(takes_.front().home_a4_hz, take.home_a4_hz));
    measured_u95 = std::max(measured_u95, take.u95_cents);
  }
  if (days.size() < 2) return {};
  OneWaySums sums;
  Moments means;
  double shares = 0;  // sum over the days of what the mean of a day owes to chance, against that of one take
  for (const auto& [date, cents] : days) {
    add_group(sums, cents);
    windway::add(means, cents.mean);
    shares += 1 / static_cast<double>(cents.n);
  }
  const auto repeat = repeatability_sd(sums);
  const double take_u95 = repeat ? u95_factor(static_cast<double>(repeat->degrees)) * repeat->sd : measured_u95;
  const auto count = static_cast<double>(days.size());
  KeeperOffsets offsets;
  for (const auto& [date, cents] : days) {
    const double share = 1 / static_cast<double>(cents.n);
    const double variance = share * (1 - 2 / count) + shares / (count * count);  // of the day less the days' mean
    offsets[date] = {cents.mean - means.mean, take_u95 * std::sqrt(variance)};
  }
  return offsets;
}

std::optional<BenchEntry> by_keeper(BenchEntry entry, const KeeperOffsets& offsets) {
  const auto day = offsets.find(date_of(entry));
  if (day == offsets.end()) return std::nullopt;
  const CentsEstimate& offset = day->second;
  const double per_mm = cents_per_mm(entry);
  const double of_notes = part_of_notes_cents(entry, offset.cents, per_mm);
  const bool can_move = entry.limit != SlideLimit::fixed_head && per_mm > 0 && entry.head_rests_mm;
  if (entry.limit || of_notes != 0) take_from_notes(entry, {of_notes, offset.u95_cents});
  if (can_move && of_notes != offset.cents) take_from_head(entry, {offset.cents - of_notes, offset.u95_cents}, per_mm);
  take_from_reach(entry, offset, !can_move || of_notes == offset.cents);
  if (entry.home_a4_hz) entry.home_a4_hz = hz_at_cents(*entry.home_a4_hz, -offset.cents);
  if (entry.result && !entry.judged.empty()) entry.result = result_of(entry.judged);
  return entry;
}

}  // namespace windway
