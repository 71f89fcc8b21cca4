// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <unordered_set>

#include "bench/bench_entry.hpp"
#include "bench/bench_warmth.hpp"
#include "bench/production.hpp"
#include "bench/repeatability.hpp"
#include "statistics/moments.hpp"
#include "statistics/value_sketch.hpp"

namespace windway {

struct TallyRules {
  std::optional<GroupBy> group_by;    ///< absent: as each take's results remember it
  std::optional<std::string> keeper;  ///< serial of the bench's own flute, recorded again and again; absent: the same
  std::optional<std::string> stage;   ///< of the work: takes of other stages are neither judged nor counted
};

/// How many instruments came out how; by VerdictResult, and those of which nothing was asked.
struct VerdictCounts {
  std::array<std::uint64_t, 4> by_result{};
  std::uint64_t measured_only = 0;

  std::uint64_t of(VerdictResult result) const { return by_result[static_cast<std::size_t>(result)]; }
  std::uint64_t all() const;
};

struct NoteTally {
  int register_number = 1;
  Moments left;  ///< of the note after the instrument's own best slide, cents
  ValueSketch sketch;
  Moments spread;
  Moments length_mm;
  std::optional<double> tolerance_cents;  ///< the same for all; absent: none, or they differ
  bool tolerance_differs = false;
};

struct GroupTally {
  VerdictCounts verdicts;
  std::map<NoteId, Moments> left;
};

/// Takes that came with one warning; the first of them by name, so that room does not grow with the bench.
struct WarnedTakes {
  static constexpr std::size_t most_named = 3;

  std::uint64_t takes = 0;
  std::set<std::string> named;
};

/// A note that was called, and how near its limit it lies.
struct NearLimit {
  double cents = 0;
  std::string name;  ///< of the instrument
  NoteId note;

  auto operator<=>(const NearLimit&) const = default;
};

/// The bench so far, in room that depends on the notes, groups and keepers, not on the number of instruments.
struct BenchTally {
  static constexpr std::size_t most_groups = 1000;
  static constexpr std::size_t most_near_limits = 100;  // more than anybody records again

  TallyRules rules;
  std::uint64_t takes = 0;  ///< all that came, the keeper's too
  std::uint64_t of_other_stages = 0;
  std::uint64_t overtaken = 0;   ///< by a later take of the same instrument
  std::uint64_t duplicates = 0;  ///< left out: the result of the same recording came again
  VerdictCounts verdicts;        ///< of those that count
  VerdictCounts first_takes;     ///< of each instrument's first take, whether it counts or not
  /// Hashes of serial and stage: of those that did not pass at their first take, of those that passed at a later one.
  std::unordered_set<std::uint64_t> first_unpassed, later_passed;
  std::map<WarningCode, WarnedTakes> warned;  ///< of those that count
  std::set<NearLimit> near_limits;            ///< of notes that pass or fail; the nearest alone
  std::map<NoteId, NoteTally> notes;
  std::set<GroupBy> groupings;  ///< what the takes were told apart by: of several there are no groups to compare
  std::map<std::string, GroupTally> groups;
  std::uint64_t ungrouped = 0;  ///< counted, but nothing says of which group
  bool groups_are_too_many = false;
  Moments head_rests_mm;
  Moments home_a4_hz;
  Moments octave_cents;
  BenchWarmth warmth;
  Repeatability repeatability;
  Production made;
  std::optional<std::string> first_day, last_day;  ///< of the same, also of those that `made` has no room for
  std::map<std::string, Production> keepers;       ///< by serial
  std::uint64_t keeper_not_measured = 0;
  std::optional<BenchEntry> model;  ///< the first that was measured: kind, lowest note, how notes are spelt
  bool is_by_keeper = false;        ///< the keeper's offset of the day is taken out of what came
  bool a4_differs = false;          ///< of the reference pitches that they were measured by
  bool targets_differ = false;      ///< of where their makers mean the notes
  std::set<std::string> stages;     ///< of the work, of those counted; the first few
  bool models_differ = false;       ///< instruments of another kind or lowest note were put together

  /// Instruments that pass, though not at their first take.
  std::size_t reworked() const;
};

/// Takes in one more take.
void add(BenchTally& tally, const BenchEntry& entry);

/// How many instruments the statistics are of: those that count and are usable.
std::uint64_t in_statistics(const BenchTally& tally);

/// What the group is called; empty where the take does not say.
std::string group_of(const Subject& subject, GroupBy by);

/// Whether a take that is to be judged is one of the bench's own flute, which is neither judged nor counted.
bool is_keeper(const TallyRules& rules, const Subject& subject);
/// Whether a result is: by the rules, else as it remembers it.
bool is_keeper(const TallyRules& rules, const BenchEntry& entry);

/// Whether the take is of a stage that is to be judged.
bool is_of_stage(const TallyRules& rules, const Subject& subject);

/// Whether the take was measured, and its notes are what they are called.
bool is_usable(const BenchEntry& entry);

}  // namespace windway
