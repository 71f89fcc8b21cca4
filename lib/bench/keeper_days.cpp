// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/keeper_days.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

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

/// `share`: the offset in the criterion's unit, to be taken away, and its u95.
void judge_without(BenchEntry& entry, Criterion criterion, double share, double u95) {
  for (EntryJudged& each : entry.judged)
    if (each.judged.criterion == criterion && each.judged.value)
      each = judged_again(each, *each.judged.value - share, std::hypot(each.judged.u95, u95));
}

void take_from_notes(BenchEntry& entry, const CentsEstimate& offset) {
  for (EntryNote& note : entry.notes)
    if (note.moved) note.moved = without(*note.moved, offset);
  judge_without(entry, Criterion::note, offset.cents, offset.u95_cents);
  entry.evenness_cents.reset();
  entry.work.clear();  // it was advised for the notes as they sounded
}

/// A flute that sounds sharp has its head drawn too far out for it.
void take_from_head(BenchEntry& entry, const CentsEstimate& offset, double per_mm) {
  const double in_mm = offset.cents / per_mm, u95_mm = offset.u95_cents / per_mm;
  if (entry.head_rests_mm) *entry.head_rests_mm -= in_mm;
  if (entry.slide_mm) *entry.slide_mm -= in_mm;
  entry.slide_u95_mm = std::hypot(entry.slide_u95_mm, u95_mm);
  entry.head_rests_u95_mm = std::hypot(entry.head_rests_u95_mm, u95_mm);
  judge_without(entry, Criterion::head_place, in_mm, u95_mm);
}

/// How far out of fully in the head comes to rest, mm; empty: not known.
std::optional<double> place_mm(const BenchEntry& entry) {
  if (entry.head_rests_mm) return entry.head_rests_mm;
  if (entry.limit == SlideLimit::fully_in) return 0.0;
  return entry.head_out_mm && entry.slide_mm ? std::optional(*entry.head_out_mm + *entry.slide_mm) : std::nullopt;
}

/// How an offset is shared between the place of the head and the notes, cents.
struct Shares {
  double of_head = 0;
  double of_notes = 0;
  double left_over = 0;  ///< by how much the head, then at an end of its travel, misses A4, + sharp; 0: it is at none
};

/// Of a head at `place_mm` that can move. At an end of its travel now, it stays there until the offset frees it.
Shares shares_of(const BenchEntry& entry, double place_mm, double offset_cents, double per_mm) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  const double beyond_cents = entry.end_a4_hz ? cents_between(entry.a4_hz, *entry.end_a4_hz) : 0;
  const double lowest_mm = entry.limit == SlideLimit::fully_in ? place_mm : std::min(0.0, place_mm);
  const double highest_mm =
      entry.limit == SlideLimit::travel ? place_mm : std::max(entry.travel_mm.value_or(endless), place_mm);
  const double wanted_mm = place_mm + (beyond_cents - offset_cents) / per_mm;
  if (wanted_mm >= lowest_mm && wanted_mm <= highest_mm) return {offset_cents - beyond_cents, beyond_cents, 0};
  const double end_mm = wanted_mm < lowest_mm ? lowest_mm : highest_mm;
  const double of_head = (place_mm - end_mm) * per_mm;
  return {of_head, offset_cents - of_head, (wanted_mm - end_mm) * per_mm};
}

/// What most of the notes were judged by; empty: none was.
std::optional<double> usual_tolerance_cents(const std::vector<EntryJudged>& judged) {
  std::map<double, int> notes;
  for (const EntryJudged& each : judged)
    if (each.judged.criterion == Criterion::note && each.judged.upper) ++notes[*each.judged.upper];
  const auto usual = std::ranges::max_element(notes, {}, [](const auto& each) { return each.second; });
  return usual == notes.end() ? std::nullopt : std::optional(usual->first);
}

/// At an end of its travel the head reaches another A4, which is judged as the notes are; elsewhere there is none.
void set_reach(BenchEntry& entry, double left_over_cents, double u95_cents) {
  const bool is_held = left_over_cents != 0;
  const SlideLimit end = left_over_cents < 0 ? SlideLimit::fully_in : SlideLimit::travel;
  const auto reach = std::ranges::find(entry.judged, Criterion::reach_of_a4,
                                       [](const EntryJudged& each) { return each.judged.criterion; });
  const auto tolerance_cents = reach == entry.judged.end() ? usual_tolerance_cents(entry.judged) : reach->judged.upper;
  entry.limit = is_held ? std::optional(end) : std::nullopt;
  entry.end_a4_hz = is_held ? std::optional(hz_at_cents(entry.a4_hz, left_over_cents)) : std::nullopt;
  entry.shift_u95_cents = std::hypot(entry.shift_u95_cents, u95_cents);
  if (tolerance_cents) judge_reach(entry, *tolerance_cents);
}

/// A free head whose place is not known answers all, wherever that leaves it; one that cannot move answers nothing.
void take_away(BenchEntry& entry, const CentsEstimate& offset) {
  const double per_mm = cents_per_mm(entry);
  const auto place = place_mm(entry);
  const bool is_known = place && per_mm > 0 && (!entry.limit || entry.end_a4_hz);
  if (!is_known && entry.limit) return take_from_notes(entry, offset);
  if (!is_known) return;
  const Shares shares = shares_of(entry, *place, offset.cents, per_mm);
  if (entry.limit || shares.of_notes != 0) take_from_notes(entry, {shares.of_notes, offset.u95_cents});
  if (shares.of_head != 0) take_from_head(entry, {shares.of_head, offset.u95_cents}, per_mm);
  set_reach(entry, shares.left_over, offset.u95_cents);
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
  take_away(entry, offset);
  if (entry.home_a4_hz) entry.home_a4_hz = hz_at_cents(*entry.home_a4_hz, -offset.cents);
  if (entry.result && !entry.judged.empty()) entry.result = result_of(entry.judged);
  return entry;
}

}  // namespace windway
