// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/bench_page.hpp"

#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"
#include "error.hpp"
#include "report/bench/bench_report.hpp"
#include "report/page/parsed_page.hpp"
#include "report/pages/goes_back_table.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::with_tolerance;
using report_tests::ParsedPage;

const PageSource bench_source{"1.2.3", "windway batch bench.toml"};

BenchEntry failing(BenchEntry entry, int reasons) {
  entry.result = VerdictResult::fail;
  for (int i = 0; i < reasons; ++i) {
    entry.judged.emplace_back().judged.criterion = Criterion::octave;
    entry.judged.back().message =
        "B5 is 2" + std::to_string(i) + " cents flat (± 2) with the head at its best place; tolerance 15";
  }
  return entry;
}

BenchEntry unmeasured(const std::string& serial) {
  BenchEntry entry = made_up_entry(serial, {});
  entry.result = VerdictResult::not_measured;
  entry.error = "the recording is silent or nearly so; move the microphone nearer";
  return entry;
}

/// Fifteen notes, ten instruments a day, every `fail_every`-th fails; a keeper each day.
std::vector<BenchEntry> entries_of(int instruments, int fail_every) {
  std::vector<BenchEntry> entries;
  for (int i = 0; i < instruments; ++i) {
    const std::string day = "2026-0" + std::to_string(1 + i / 280 % 9) + "-" + std::to_string(10 + i / 10 % 28 % 18);
    std::vector<double> cents;
    for (int note = 0; note < 15; ++note) cents.push_back(((i + 3 * note) * 7 % 11) - 5.0 + (note == 4 ? 4 : 0));
    auto entry = with_tolerance(15, made_up_entry("HW-" + std::to_string(10000 + i), cents, day));
    entry.home_a4_hz = 440 + 0.1 * (i * 7 % 11);
    if (i % fail_every == 3) entry = failing(std::move(entry), 5);
    entries.push_back(std::move(entry));
    if (i % 10 != 0) continue;
    auto keeper = made_up_entry("KEEP", {0.0}, day);
    keeper.home_a4_hz = 440 + 0.01 * (i % 3);
    entries.push_back(std::move(keeper));
  }
  return entries;
}

const TallyRules page_rules{.group_by = std::nullopt, .keeper = "KEEP", .stage = std::nullopt};

std::string written(const std::vector<BenchEntry>& entries, std::unique_ptr<BenchReport> report = nullptr) {
  if (!report) report = bench_page(page_rules, bench_source);
  BenchTally tally;
  tally.rules = page_rules;
  std::string text;
  for (const BenchEntry& entry : entries) {
    add(tally, entry);
    text += report->add(entry, "");
  }
  return text + report->finish(tally);
}

TEST(BenchPage, BeginsWithHowManyPass) {
  const std::string text = written(entries_of(200, 50));
  const ParsedPage page(text);
  EXPECT_TRUE(page.faults().empty()) << page.faults().front();
  EXPECT_EQ(page.words("//h1"), "196 of 200 instruments pass, 4 fail");
  EXPECT_EQ(page.words("//p[@class='above']"), "Whistle in D from D5, recorded 2026-01-10 to 2026-01-27");
  for (const char* id : {"goes-back", "notes", "production", "shared", "figures", "basis"})
    EXPECT_EQ(page.count(std::string("//section/h2[@id='") + id + "']"), 1U) << id;
  EXPECT_EQ(page.count("//tbody/tr[th='HW-10003']"), 1U);
}

TEST(BenchPage, SaysWhatTheTextSaysOfTheBench) {
  const auto entries = entries_of(40, 50);
  const std::string words = ParsedPage(written(entries)).words("//main");
  for (const char* part : {"The mean home A4 of the keeper KEEP, 4 takes, is", "What 40 instruments have in common",
                           "Statistics of 40 instruments.", "Before work at a hole", "command"})
    EXPECT_TRUE(has(words, part)) << part;
}

TEST(BenchPage, NamesThreeReasonsAndCountsTheOthers) {
  const ParsedPage page(
      written({failing(made_up_entry("A", {1.0}), 5), unmeasured("B"), failing(made_up_entry("C", {1.0}), 4)}));
  EXPECT_EQ(page.count("//tr[th='A']//div[@class='reason']"), 4U);
  EXPECT_EQ(page.words("//tr[th='A']//div[@class='reason'][4]"), "And 2 more");
  EXPECT_EQ(page.count("//tr[th='C']//div[@class='reason']"), 4U);  // the fourth has the room of its count
  EXPECT_FALSE(has(page.words("//tr[th='C']"), "more"));
  EXPECT_EQ(page.words("//tr[th='A']/td[1]"), "✕ fails");
  EXPECT_EQ(page.words("//tr[th='B']/td[1]"), "– not measured");
  EXPECT_EQ(page.words("//section[h2[@id='goes-back']]//tbody/tr[3]/th"), "B");  // those that fail come first
}

TEST(BenchPage, NamesFirstWhatDecides) {
  BenchEntry entry = failing(made_up_entry("A", {1.0}), 9);
  for (EntryJudged& each : entry.judged) each.judged.result = VerdictResult::too_close;
  entry.judged.back().judged.result = VerdictResult::fail;
  const ParsedPage page(written({entry}));
  EXPECT_TRUE(has(page.words("//tr[th='A']//div[@class='reason'][1]"), "B5 is 28 cents"));
  EXPECT_TRUE(has(page.words("//tr[th='A']//div[@class='reason'][2]"), "B5 is 20 cents"));
}

TEST(BenchPage, CountsTheWorkThatItDoesNotName) {
  BenchEntry entry = failing(made_up_entry("A", {1.0}), 1);
  for (int i = 0; i < 6; ++i) entry.work.push_back({true, "enlarge hole " + std::to_string(i)});
  const ParsedPage page(written({entry}));
  EXPECT_EQ(page.words("//tr[th='A']//div[@class='work'][1]"), "Work: enlarge hole 0");
  EXPECT_EQ(page.words("//tr[th='A']//div[@class='work'][4]"), "And 3 more");
}

TEST(BenchPage, LeavesOutTheTableWhereAllPass) {
  const ParsedPage page(written(entries_of(10, 1000)));
  EXPECT_EQ(page.count("//h2[@id='goes-back']"), 1U);  // the fourth fails
  const ParsedPage all_pass(written({made_up_entry("A", {1.0}), made_up_entry("B", {2.0})}));
  EXPECT_EQ(all_pass.count("//h2[@id='goes-back']"), 0U);
}

TEST(BenchPage, KeepsHostileNamesAsText) {
  const std::string name = "<script>alert('x')</script>&\"\x1b[2J";
  std::vector<BenchEntry> entries = entries_of(30, 50);
  entries[2].subject.serial = name;
  entries[2] = failing(entries[2], 1);
  entries[2].judged.back().message = name;
  entries[2].notes[0].moved = CentsEstimate{80, 1};
  entries[2].home_a4_hz = 500;
  const std::string text = written(entries);
  const ParsedPage page(text);
  EXPECT_TRUE(page.faults().empty());
  EXPECT_FALSE(has(text, "<script"));
  EXPECT_FALSE(has(text, "\x1b"));
  EXPECT_TRUE(has(page.words("//main"), "<script>alert('x')</script>&\""));
}

TEST(BenchPage, StaysSmall) {
  EXPECT_LT(written(entries_of(200, 5)).size(), 300'000U);
  EXPECT_LT(written(entries_of(10'000, 4)).size(), 2'000'000U);
}

TEST(BenchPage, CountsThoseThatItHasNoRoomFor) {
  GoesBackTable table;
  constexpr std::size_t others = 7;
  for (std::size_t i = 0; i < GoesBackTable::most_shown + others; ++i) table.add(failing(made_up_entry("A", {}), 1));
  EXPECT_TRUE(has(table.section().text(), "and 7 more; --format csv lists all of them."));
  GoesBackTable of_both;
  BenchEntry close = failing(made_up_entry("CLOSE", {}), 1);
  close.result = VerdictResult::too_close;
  for (std::size_t i = 0; i < GoesBackTable::most_shown; ++i) of_both.add(close);
  for (std::size_t i = 0; i < others; ++i) of_both.add(failing(made_up_entry("LATE", {}), 1));
  const ParsedPage section(of_both.section().text());  // those that fail have room, though they came last
  EXPECT_EQ(section.count("//tr[th='LATE']"), others);
  EXPECT_EQ(section.count("//tr[th='CLOSE']"), GoesBackTable::most_shown - others);
  EXPECT_TRUE(has(of_both.section().text(), "and 7 more"));
  GoesBackTable of_long_names;
  for (int i = 0; i < 40; ++i) of_long_names.add(failing(made_up_entry(std::string(50'000, 'x'), {}), 1));
  EXPECT_LT(of_long_names.section().text().size(), GoesBackTable::most_bytes + 1000);
}

TEST(BenchPage, OfNothingOfOneAndOfOneUnmeasuredIsWellFormed) {
  const std::vector<std::vector<BenchEntry>> benches{{}, {made_up_entry("A", {1.0})}, {unmeasured("A")}};
  for (const auto& entries : benches) {
    const ParsedPage page(written(entries));
    EXPECT_TRUE(page.faults().empty());
    EXPECT_EQ(page.count("//h2[@id='basis']"), 1U);
  }
  EXPECT_EQ(ParsedPage(written({})).words("//h1"), "No instrument was measured");
}

TEST(BenchPage, SaysWhereNothingWasAsked) {
  auto entry = made_up_entry("A", {1.0});
  entry.result.reset();
  const ParsedPage page(written({entry}));
  EXPECT_EQ(page.words("//h1"), "1 instrument was measured");
  EXPECT_TRUE(has(page.words("//main/p[1]"), "Without a limit none is judged"));
}

TEST(BenchPage, HasOnlyTakesOfTheStageThatIsAsked) {
  TallyRules final_only;
  final_only.stage = "final";
  const auto report = bench_page(final_only, bench_source);
  auto entry = failing(made_up_entry("RAW", {1.0}), 1);
  entry.subject.stage = "raw";
  report->add(entry, "");
  entry.subject.serial = "DONE";
  entry.subject.stage = "final";
  report->add(entry, "");
  BenchTally tally;
  tally.rules = final_only;
  const std::string page = report->finish(tally);
  EXPECT_FALSE(has(page, "RAW"));
  EXPECT_TRUE(has(page, "DONE"));
  EXPECT_EQ(ParsedPage(page).words("//dt[.='stage']/following-sibling::dd[1]"), "final");
}

TEST(BenchPicture, GivesEachFigureAlone) {
  const auto entries = entries_of(40, 50);
  for (const std::string& name : bench_figures()) {
    const ParsedPage picture(written(entries, bench_picture(name)));
    EXPECT_TRUE(picture.faults().empty()) << name;
    EXPECT_EQ(picture.count("/svg/title"), 1U) << name;
  }
  EXPECT_EQ(written(entries, bench_picture("")), written(entries, bench_picture("notes")));
}

TEST(BenchPicture, RefusesWhereThereIsNothingToDraw) {
  for (const std::string& name : bench_figures()) EXPECT_THROW(written({}, bench_picture(name)), Error) << name;
}

}  // namespace
}  // namespace windway
