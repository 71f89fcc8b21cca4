// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_tally.hpp"

#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::one_of;
using batch_tests::with_tolerance;

const NoteId lowest{74, ""};

BenchTally tally_of(const std::vector<BenchEntry>& entries, const TallyRules& rules = {}) {
  BenchTally tally;
  tally.rules = rules;
  for (const BenchEntry& entry : entries) add(tally, entry);
  return tally;
}

BenchEntry in_lot(const std::string& lot, BenchEntry entry) {
  entry.subject.lot = lot;
  return entry;
}

BenchEntry overtaken(BenchEntry entry) {
  entry.counting.counts = false;
  return entry;
}

TEST(BenchTally, CountsVerdictsWhatWasNotAskedAndWhatCouldNotBeRead) {
  std::vector<BenchEntry> entries;
  for (const VerdictResult result : {VerdictResult::pass, VerdictResult::fail, VerdictResult::fail,
                                     VerdictResult::too_close, VerdictResult::not_measured}) {
    entries.push_back(made_up_entry(std::to_string(entries.size()), {0.0}));
    entries.back().result = result;
  }
  entries.push_back(made_up_entry("unasked", {0.0}));
  entries.back().result.reset();
  entries.push_back(made_up_entry("unread", {}));
  entries.back().result.reset();
  entries.back().error = "no such file";
  const BenchTally tally = tally_of(entries);
  EXPECT_EQ(tally.verdicts.of(VerdictResult::pass), 1U);
  EXPECT_EQ(tally.verdicts.of(VerdictResult::fail), 2U);
  EXPECT_EQ(tally.verdicts.of(VerdictResult::too_close), 1U);
  EXPECT_EQ(tally.verdicts.of(VerdictResult::not_measured), 2U);
  EXPECT_EQ(tally.verdicts.measured_only, 1U);
  EXPECT_EQ(tally.verdicts.all(), 7U);
  EXPECT_EQ(tally.notes.at(lowest).left.n, 6U);
}

TEST(BenchTally, KnowsFirstAndLastDayInAnyOrder) {
  const BenchTally tally = tally_of({made_up_entry("A", {1.0}, "2026-03-05T10:00"), made_up_entry("B", {1.0}, "2026"),
                                     made_up_entry("C", {1.0}, "2026-03-02"), made_up_entry("D", {1.0})});
  EXPECT_EQ(tally.first_day, "2026-03-02");
  EXPECT_EQ(tally.last_day, "2026-03-05");
  EXPECT_FALSE(tally_of({made_up_entry("A", {1.0})}).first_day);
}

TEST(BenchTally, LeavesOvertakenTakesOutOfAllButTheRepeatability) {
  const BenchTally tally =
      tally_of({overtaken(one_of(2, made_up_entry("A", {9.0}))), one_of(2, made_up_entry("A", {1.0}))});
  EXPECT_EQ(tally.takes, 2U);
  EXPECT_EQ(tally.overtaken, 1U);
  EXPECT_EQ(tally.verdicts.all(), 1U);
  EXPECT_EQ(tally.notes.at(lowest).left.n, 1U);
  EXPECT_EQ(tally.notes.at(lowest).left.mean, 1.0);
  EXPECT_EQ(tally.duplicates, 0U);
  EXPECT_EQ(repeatability_sd(tally.repeatability.sums().at(lowest)).value().degrees, 1U);
}

TEST(BenchTally, KeepsTheKeeperApartFromTheInstruments) {
  const BenchTally tally = tally_of({one_of(2, made_up_entry("KEEP", {50.0}, "2026-01-01")), made_up_entry("A", {1.0}),
                                     overtaken(one_of(2, made_up_entry("KEEP", {52.0}, "2026-01-02")))},
                                    {.group_by = std::nullopt, .keeper = "KEEP", .stage = std::nullopt});
  EXPECT_EQ(tally.takes, 3U);
  EXPECT_EQ(tally.verdicts.all(), 1U);
  EXPECT_EQ(tally.overtaken, 0U);
  EXPECT_EQ(tally.notes.at(lowest).left.max, 1.0);
  EXPECT_EQ(tally.keepers.at("KEEP").size(), 2U);
  EXPECT_EQ(tally.made.size(), 1U);
  EXPECT_TRUE(tally.repeatability.sums().empty());
}

TEST(BenchTally, LeavesOutAResultThatIsToldAgain) {
  BenchEntry again = made_up_entry("A", {0.0});
  again.counting = {.counts = false, .is_first = false, .is_told_twice = true};
  const BenchTally tally = tally_of({made_up_entry("A", {0.0}), again, made_up_entry("B", {0.0})});
  EXPECT_EQ(tally.duplicates, 1U);
  EXPECT_EQ(tally.verdicts.all(), 2U);
  EXPECT_EQ(tally.overtaken, 0U);
}

TEST(BenchTally, TellsReworkFromWhatPassedAtOnce) {
  const auto take = [](const std::string& serial, VerdictResult result, bool is_first, bool counts) {
    BenchEntry entry = made_up_entry(serial, {0.0});
    entry.result = result;
    entry.counting.is_first = is_first;
    entry.counting.counts = counts;
    return entry;
  };
  const BenchTally tally =
      tally_of({take("A", VerdictResult::pass, false, true), take("A", VerdictResult::fail, true, false),
                take("B", VerdictResult::pass, true, false), take("B", VerdictResult::pass, false, true),
                take("C", VerdictResult::fail, true, true)});
  EXPECT_EQ(tally.reworked(), 1U);
  EXPECT_EQ(tally.first_takes.of(VerdictResult::pass), 1U);
  EXPECT_EQ(tally.first_takes.of(VerdictResult::fail), 2U);
}

TEST(BenchTally, GroupsByWhatItIsToldTo) {
  Subject subject;
  subject.head = "h";
  subject.lot = "l";
  subject.material = "m";
  subject.operator_name = "o";
  subject.stage = "s";
  EXPECT_EQ(group_of(subject, GroupBy::head), "h");
  EXPECT_EQ(group_of(subject, GroupBy::lot), "l");
  EXPECT_EQ(group_of(subject, GroupBy::material), "m");
  EXPECT_EQ(group_of(subject, GroupBy::operator_name), "o");
  subject.recorded_at = "2026-03-01T08:00";
  EXPECT_EQ(group_of(subject, GroupBy::day), "2026-03-01");
  EXPECT_EQ(group_of(subject, GroupBy::week), "2026-02-23");
  EXPECT_EQ(group_of(subject, GroupBy::month), "2026-03");
  EXPECT_EQ(group_of(subject, GroupBy::stage), "s");
  EXPECT_EQ(group_of({}, GroupBy::lot), "");
}

TEST(BenchTally, CountsEachGroupAndLeavesOutTakesThatSayNoGroup) {
  const BenchTally tally = tally_of({in_lot("1", made_up_entry("A", {1.0})), in_lot("2", made_up_entry("B", {5.0})),
                                     in_lot("1", made_up_entry("C", {3.0})), made_up_entry("D", {90.0})},
                                    {.group_by = GroupBy::lot, .keeper = std::nullopt, .stage = std::nullopt});
  ASSERT_EQ(tally.groups.size(), 2U);
  EXPECT_EQ(tally.groups.at("1").verdicts.all(), 2U);
  EXPECT_EQ(tally.groups.at("1").left.at(lowest).mean, 2.0);
  EXPECT_EQ(tally.groups.at("2").left.at(lowest).mean, 5.0);
  EXPECT_EQ(tally.ungrouped, 1U);
}

TEST(BenchTally, CountsTheTakesThatEachWarningCameWithAndNamesTheFirst) {
  const auto warned = [](const char* serial, std::vector<WarningCode> codes) {
    auto entry = made_up_entry(serial, {0.0});
    entry.warnings = std::move(codes);
    return entry;
  };
  const auto clipped = WarningCode::clipped;
  const BenchTally tally =
      tally_of({warned("E", {clipped}), warned("B", {clipped, clipped}), warned("A", {WarningCode::not_warm_yet}),
                overtaken(warned("A", {clipped})), warned("D", {clipped}), warned("C", {clipped}), warned("F", {})});
  ASSERT_EQ(tally.warned.size(), 2U);
  EXPECT_EQ(tally.warned.at(clipped).takes, 4U);
  EXPECT_EQ(tally.warned.at(clipped).named, (std::set<std::string>{"B", "C", "D"}));
  EXPECT_EQ(tally.warned.at(WarningCode::not_warm_yet).takes, 1U);
}

TEST(BenchTally, BoundsTheGroupsAndSaysSo) {
  std::vector<BenchEntry> entries;
  for (std::size_t i = 0; i < BenchTally::most_groups; ++i)
    entries.push_back(in_lot(std::to_string(i), made_up_entry(std::to_string(i), {0.0})));
  const TallyRules by_lot{.group_by = GroupBy::lot, .keeper = std::nullopt, .stage = std::nullopt};
  EXPECT_FALSE(tally_of(entries, by_lot).groups_are_too_many);
  entries.push_back(in_lot("one more", made_up_entry("x", {0.0})));
  const BenchTally tally = tally_of(entries, by_lot);
  EXPECT_TRUE(tally.groups_are_too_many);
  EXPECT_EQ(tally.groups.size(), BenchTally::most_groups);
}

TEST(BenchTally, SeesThatModelsAreMixed) {
  auto lower = made_up_entry("B", {0.0});
  lower.lowest_midi = 72;
  auto recorder = made_up_entry("C", {0.0});
  recorder.kind = Kind::recorder;
  EXPECT_FALSE(tally_of({made_up_entry("A", {0.0}), made_up_entry("B", {0.0})}).models_differ);
  EXPECT_TRUE(tally_of({made_up_entry("A", {0.0}), lower}).models_differ);
  EXPECT_TRUE(tally_of({made_up_entry("A", {0.0}), recorder}).models_differ);
}

TEST(BenchTally, HasAToleranceOnlyWhereAllHaveTheSame) {
  const auto tolerance = [](const std::vector<BenchEntry>& entries) {
    return tally_of(entries).notes.at(lowest).tolerance_cents;
  };
  const BenchEntry plain = made_up_entry("A", {0.0});
  EXPECT_EQ(tolerance({with_tolerance(10, plain), with_tolerance(10, plain)}), 10.0);
  EXPECT_FALSE(tolerance({with_tolerance(10, plain), with_tolerance(12, plain), with_tolerance(12, plain)}));
  EXPECT_FALSE(tolerance({plain, with_tolerance(10, plain)}));
  EXPECT_FALSE(tolerance({with_tolerance(10, plain), plain, with_tolerance(10, plain)}));
}

TEST(BenchTally, UsesNoTakeThatWasDoubted) {
  auto unread = made_up_entry("A", {0.0});
  unread.error = "cut short";
  auto doubted = made_up_entry("B", {0.0});
  doubted.judged.emplace_back().judged.criterion = Criterion::take;
  auto far_off = made_up_entry("C", {0.0});
  far_off.warnings = {WarningCode::clipped, WarningCode::scale_far_off};
  for (const BenchEntry& entry : {unread, doubted, far_off, made_up_entry("D", {})}) {
    EXPECT_FALSE(is_usable(entry)) << name_of(entry);
    EXPECT_TRUE(tally_of({entry}).notes.empty()) << name_of(entry);
    EXPECT_EQ(tally_of({entry}).verdicts.all(), 1U) << name_of(entry);
  }
  auto clipped = made_up_entry("E", {0.0});
  clipped.warnings = {WarningCode::clipped};
  EXPECT_TRUE(is_usable(clipped));
}

TEST(BenchTally, TakesTheSoundFilesDateWhereTheManifestGivesNone) {
  BenchEntry entry = made_up_entry("A", {0.0}, "2026-03-01");
  entry.subject.recorded_at.reset();
  BenchTally tally;
  tally.rules.group_by = GroupBy::week;
  add(tally, entry);
  EXPECT_TRUE(tally.groups.contains("2026-02-23"));
}

}  // namespace
}  // namespace windway
