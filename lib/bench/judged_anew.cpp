// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/judged_anew.hpp"

#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

#include "units/units.hpp"

namespace windway {
namespace {

void leave_out(BenchEntry& entry, Criterion criterion) {
  std::erase_if(entry.judged, [&](const EntryJudged& each) { return each.judged.criterion == criterion; });
}

/// Value, u95 and limits in the criterion's own unit.
EntryJudged judged_first(Criterion criterion, double value, double u95, double lower, double upper) {
  return {{.criterion = criterion,
           .result = judged_within(value, u95, lower, upper),
           .value = value,
           .u95 = u95,
           .lower = lower,
           .upper = upper},
          ""};
}

EntryJudged within(Criterion criterion, const CentsEstimate& value, double lower_cents, double upper_cents,
                   const std::optional<NoteId>& note = {}) {
  EntryJudged each = judged_first(criterion, value.cents, value.u95_cents, lower_cents, upper_cents);
  each.judged.note = note;
  return each;
}

EntryJudged unjudged(Criterion criterion, const std::string& why, const std::optional<NoteId>& note = {}) {
  return {{.criterion = criterion, .result = VerdictResult::not_measured, .note = note, .why = why}, ""};
}

void judge_notes(BenchEntry& entry, double tolerance_cents) {
  leave_out(entry, Criterion::note);
  for (const EntryNote& note : entry.notes)
    if (note.moved && note.weight > 0)
      entry.judged.push_back(within(Criterion::note, *note.moved, -tolerance_cents, tolerance_cents, note.id));
}

void judge_spreads(BenchEntry& entry, double max_spread_cents) {
  leave_out(entry, Criterion::spread);
  for (const EntryNote& note : entry.notes) {
    if (!(note.weight > 0)) continue;
    EntryJudged each =
        note.spread
            ? within(Criterion::spread, *note.spread, -std::numeric_limits<double>::infinity(), max_spread_cents,
                     note.id)
            : unjudged(Criterion::spread, "soft and hard were not both measured, so its spread is not known", note.id);
    each.judged.lower.reset();
    each.judged.upper = max_spread_cents;
    entry.judged.push_back(std::move(each));
  }
}

void judge_octave(BenchEntry& entry, double max_octave_cents, bool is_asked_for) {
  leave_out(entry, Criterion::octave);
  if (entry.octave)
    entry.judged.push_back(within(Criterion::octave, *entry.octave, -max_octave_cents, max_octave_cents));
  else if (is_asked_for)
    entry.judged.push_back(unjudged(Criterion::octave, "no note was held in both octaves, so they cannot be compared"));
}

/// A head that must be pushed in on trust stays as it was.
void judge_head(BenchEntry& entry, const HeadRange& range) {
  const bool is_on_trust = std::ranges::any_of(entry.judged, [](const EntryJudged& each) {
    return each.judged.criterion == Criterion::head_place && !each.judged.value;
  });
  if (is_on_trust) return;
  leave_out(entry, Criterion::head_place);
  entry.judged.push_back(entry.head_rests_mm && entry.head_moves
                             ? judged_first(Criterion::head_place, *entry.head_rests_mm, entry.head_rests_u95_mm,
                                            range.min_mm, range.max_mm)
                             : unjudged(Criterion::head_place,
                                        entry.head_moves ? "it is not known how far out the head was while recording"
                                                         : "its head does not move"));
}

/// A limit of the octave that followed from the tolerance follows from the new one; one of its own stays.
bool octave_follows_tolerance(const std::vector<EntryJudged>& judged) {
  const auto octave =
      std::ranges::find(judged, Criterion::octave, [](const auto& each) { return each.judged.criterion; });
  return octave == judged.end() || std::ranges::any_of(judged, [&](const EntryJudged& each) {
           return each.judged.criterion == Criterion::note && each.judged.upper &&
                  octave->judged.upper == 2 * *each.judged.upper;
         });
}

void judge_all(BenchEntry& entry, const JudgeLimits& limits) {
  const bool has_octave_to_follow = limits.tolerance_cents && octave_follows_tolerance(entry.judged);
  if (limits.tolerance_cents) {
    judge_notes(entry, *limits.tolerance_cents);
    judge_reach(entry, *limits.tolerance_cents);
    entry.work.clear();  // it was advised for what failed by the earlier tolerance
  }
  if (limits.max_spread_cents) judge_spreads(entry, *limits.max_spread_cents);
  if (limits.max_octave_cents)
    judge_octave(entry, *limits.max_octave_cents, true);
  else if (has_octave_to_follow)
    judge_octave(entry, 2 * *limits.tolerance_cents, false);
  if (limits.head_out_range_mm) judge_head(entry, *limits.head_out_range_mm);
}

/// A line of which nothing was asked holds neither the octave nor where the head comes to rest.
void leave_open_what_nobody_asked(BenchEntry& entry, const JudgeLimits& limits) {
  const std::string why =
      " not saved, as its batch had no limit for it: run the batch again with these limits and --resume";
  leave_out(entry, Criterion::octave);
  leave_out(entry, Criterion::head_place);
  if (limits.tolerance_cents || limits.max_octave_cents)
    entry.judged.push_back(unjudged(Criterion::octave, "how wide the octaves are was" + why));
  if (entry.head_moves) entry.judged.push_back(unjudged(Criterion::head_place, "the ± of the head's place was" + why));
}

}  // namespace

BenchEntry judged_anew(BenchEntry entry, const JudgeLimits& limits) {
  if (!asks_anything(limits)) return entry;
  if (!entry.error.empty()) {
    entry.result = VerdictResult::not_measured;
    return entry;
  }
  const bool was_asked = entry.result.has_value();
  const bool is_doubted = std::ranges::any_of(
      entry.judged, [](const EntryJudged& each) { return each.judged.criterion == Criterion::take; });
  const bool is_deep_in_doubt = std::ranges::any_of(entry.warnings, is_deep_doubt);
  if (is_deep_in_doubt && !is_doubted)
    entry.judged.push_back(unjudged(Criterion::take, "the whole take is doubtful: see its warnings"));
  if (!is_doubted && !is_deep_in_doubt) judge_all(entry, limits);
  if (!was_asked) leave_open_what_nobody_asked(entry, limits);
  entry.result = result_of(entry.judged);
  return entry;
}

void judge_reach(BenchEntry& entry, double tolerance_cents) {
  leave_out(entry, Criterion::reach_of_a4);
  if (!entry.end_a4_hz) return;
  const CentsEstimate off{cents_between(entry.a4_hz, *entry.end_a4_hz), entry.shift_u95_cents};
  entry.judged.push_back(within(Criterion::reach_of_a4, off, -tolerance_cents, tolerance_cents));
}

EntryJudged judged_again(EntryJudged each, double value, double u95) {
  constexpr double none = std::numeric_limits<double>::infinity();
  Judged& judged = each.judged;
  judged.value = value;
  judged.u95 = u95;
  judged.result = judged_within(value, u95, judged.lower.value_or(-none), judged.upper.value_or(none));
  each.message.clear();
  return each;
}

VerdictResult result_of(const std::vector<EntryJudged>& judged) {
  std::vector<Judged> all;
  std::ranges::transform(judged, std::back_inserter(all), &EntryJudged::judged);
  return worst_of(all);
}

}  // namespace windway
