// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_tally.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include "manifest/recorded_cell.hpp"

namespace windway {
namespace {

constexpr std::size_t most_stages_told = 8;

void count(VerdictCounts& counts, const BenchEntry& entry) {
  if (entry.result) {
    ++counts.by_result[static_cast<std::size_t>(*entry.result)];
  } else if (entry.error.empty()) {
    ++counts.measured_only;
  } else {
    ++counts.by_result[static_cast<std::size_t>(VerdictResult::not_measured)];
  }
}

std::optional<double> tolerance_of(const BenchEntry& entry, const EntryNote& note) {
  for (const EntryJudged& each : entry.judged)
    if (each.judged.criterion == Criterion::note && each.judged.note == note.id) return each.judged.upper;
  return std::nullopt;
}

void note_tolerance(NoteTally& tally, const std::optional<double>& tolerance_cents) {
  const bool is_first = tally.left.n == 0;
  tally.tolerance_differs = tally.tolerance_differs || (!is_first && tally.tolerance_cents != tolerance_cents);
  tally.tolerance_cents = tally.tolerance_differs ? std::nullopt : tolerance_cents;
}

void add_note(BenchTally& tally, const BenchEntry& entry, const EntryNote& note, GroupTally* group) {
  NoteTally& found = tally.notes[note.id];
  note_tolerance(found, tolerance_of(entry, note));
  found.register_number = note.register_number;
  add(found.left, note.moved->cents);
  add(found.sketch, note.moved->cents);
  if (note.spread) add(found.spread, note.spread->cents);
  if (note.effective_length_mm) add(found.length_mm, *note.effective_length_mm);
  if (group != nullptr) add(group->left[note.id], note.moved->cents);
}

/// The takes of an instrument may come in any order.
void note_rework(BenchTally& tally, const BenchEntry& entry) {
  const Counting& counting = entry.counting;
  const std::uint64_t instrument = take_order(entry.subject, counting.from).instrument;
  // Nothing was asked, nobody has worked on it, or each of its takes counts by itself.
  if (instrument == 0 || !entry.result || counting.is_lost || counting.from == VerdictFrom::all) return;
  const bool passes = entry.result == VerdictResult::pass;
  if (counting.is_first && !passes) tally.first_unpassed.insert(instrument);
  if (!counting.is_first && counting.counts && passes) tally.later_passed.insert(instrument);
}

/// How well the bench repeats a note is known only at the end.
void note_near_limits(BenchTally& tally, const BenchEntry& entry) {
  for (const auto& [judged, message] : entry.judged) {
    const bool is_called = judged.result == VerdictResult::pass || judged.result == VerdictResult::fail;
    if (!is_called || judged.criterion != Criterion::note || !judged.note || !judged.value || !judged.upper) continue;
    tally.near_limits.insert({std::abs(std::abs(*judged.value) - *judged.upper), name_of(entry), *judged.note});
    if (tally.near_limits.size() > BenchTally::most_near_limits)
      tally.near_limits.erase(std::prev(tally.near_limits.end()));
  }
}

/// The group's tally; null where the take does not say, or there is no more room.
GroupTally* group_for(BenchTally& tally, const BenchEntry& entry) {
  const std::optional<GroupBy> by = tally.rules.group_by ? tally.rules.group_by : entry.counting.group_by;
  if (by) tally.groupings.insert(*by);
  const std::string name = by ? group_of(dated_subject(entry), *by) : "";
  if (name.empty()) {
    ++tally.ungrouped;
    return nullptr;
  }
  if (tally.groups.size() >= BenchTally::most_groups && !tally.groups.contains(name)) {
    tally.groups_are_too_many = true;
    return nullptr;
  }
  return &tally.groups[name];
}

void note_model(BenchTally& tally, const BenchEntry& entry) {
  if (!tally.model) tally.model = entry;
  if (tally.stages.size() < most_stages_told) tally.stages.insert(entry.subject.stage.value_or("(none)"));
  constexpr double same_hz = 0.01;  // a partner's pitch, found twice
  tally.a4_differs = tally.a4_differs || std::abs(tally.model->a4_hz - entry.a4_hz) > same_hz;
  tally.targets_differ = tally.targets_differ || tally.model->targets != entry.targets ||
                         tally.model->stretch_cents_per_octave != entry.stretch_cents_per_octave;
  tally.models_differ =
      tally.models_differ || tally.model->kind != entry.kind || tally.model->lowest_midi != entry.lowest_midi;
}

void note_day(BenchTally& tally, const BenchEntry& entry) {
  const std::string day = day_of(entry.recorded_at.value_or(""));
  if (day.empty()) return;
  tally.first_day = std::min(tally.first_day.value_or(day), day);
  tally.last_day = std::max(tally.last_day.value_or(day), day);
}

void note_warnings(BenchTally& tally, const BenchEntry& entry) {
  for (const WarningCode code : std::set<WarningCode>(entry.warnings.begin(), entry.warnings.end())) {
    WarnedTakes& warned = tally.warned[code];
    ++warned.takes;
    warned.named.insert(name_of(entry));
    if (warned.named.size() > WarnedTakes::most_named) warned.named.erase(std::prev(warned.named.end()));
  }
}

}  // namespace

std::uint64_t VerdictCounts::all() const { return std::accumulate(by_result.begin(), by_result.end(), measured_only); }

std::uint64_t in_statistics(const BenchTally& tally) { return tally.made.size() + tally.made.left_out(); }

std::size_t BenchTally::reworked() const {
  return static_cast<std::size_t>(std::ranges::count_if(
      later_passed, [&](std::uint64_t instrument) { return first_unpassed.contains(instrument); }));
}

std::string group_of(const Subject& subject, GroupBy by) {
  switch (by) {
    case GroupBy::head:
      return subject.head.value_or("");
    case GroupBy::lot:
      return subject.lot.value_or("");
    case GroupBy::material:
      return subject.material.value_or("");
    case GroupBy::operator_name:
      return subject.operator_name.value_or("");
    case GroupBy::stage:
      return subject.stage.value_or("");
    case GroupBy::day:
      return day_of(subject.recorded_at.value_or(""));
    case GroupBy::week:
      return monday_of(subject.recorded_at.value_or(""));
    case GroupBy::month:
      break;
  }
  return month_of(subject.recorded_at.value_or(""));
}

bool is_keeper(const TallyRules& rules, const Subject& subject) {
  return rules.keeper && subject.serial == rules.keeper;
}

bool is_keeper(const TallyRules& rules, const BenchEntry& entry) {
  return rules.keeper ? is_keeper(rules, entry.subject) : entry.counting.keeper;
}

bool is_of_stage(const TallyRules& rules, const Subject& subject) {
  return !rules.stage || subject.stage == rules.stage;
}

bool is_usable(const BenchEntry& entry) {
  const bool is_doubted =
      std::ranges::any_of(entry.judged,
                          [](const EntryJudged& each) { return each.judged.criterion == Criterion::take; }) ||
      std::ranges::any_of(entry.warnings, is_deep_doubt);
  return entry.error.empty() && !entry.notes.empty() && !is_doubted;
}

void add(BenchTally& tally, const BenchEntry& entry) {
  ++tally.takes;
  if (entry.counting.is_told_twice) {
    ++tally.duplicates;
    return;
  }
  const bool usable = is_usable(entry);
  if (is_keeper(tally.rules, entry)) {
    usable ? tally.keepers[name_of(entry)].add(entry) : static_cast<void>(++tally.keeper_not_measured);
    return;
  }
  tally.repeatability.add(entry, usable);
  if (!is_of_stage(tally.rules, entry.subject)) {
    ++tally.of_other_stages;
    return;
  }
  if (entry.counting.is_first) count(tally.first_takes, entry);
  note_rework(tally, entry);
  if (!entry.counting.counts) {
    ++tally.overtaken;
    return;
  }
  count(tally.verdicts, entry);
  note_warnings(tally, entry);
  GroupTally* group = group_for(tally, entry);
  if (group != nullptr) count(group->verdicts, entry);
  if (!usable) return;
  note_near_limits(tally, entry);
  note_model(tally, entry);
  note_day(tally, entry);
  add(tally.warmth, entry);
  for (const EntryNote& note : entry.notes)
    if (note.moved && note.weight > 0) add_note(tally, entry, note, group);
  if (entry.head_rests_mm) add(tally.head_rests_mm, *entry.head_rests_mm);
  if (entry.home_a4_hz) add(tally.home_a4_hz, *entry.home_a4_hz);
  if (entry.octave) add(tally.octave_cents, entry.octave->cents);
  tally.made.add(entry);
}

}  // namespace windway
