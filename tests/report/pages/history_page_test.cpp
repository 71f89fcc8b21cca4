// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/history_page.hpp"

#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"
#include "report/page/parsed_page.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using report_tests::ParsedPage;

const PageSource history_source{"1.2.3", "windway history bench.jsonl"};

TEST(HistoryPage, SaysWhichStepsItDraws) {
  std::vector<BenchEntry> takes;
  for (int i = 0; i < 16; ++i) {
    takes.push_back(made_up_entry("A", {1.0 * i}, "2026-11-" + std::to_string(10 + i)));
    takes.back().subject.stage = "stage " + std::to_string(i);
  }
  const ParsedPage page(history_page(history_of(takes, BenchRepeat{}), history_source));
  EXPECT_EQ(page.count("//h2[starts-with(@id, 'step-')]"), 12U);
  EXPECT_TRUE(has(page.words("//main"), "Of 15 steps of the work the last 12 are drawn"));
}

TEST(HistoryPage, DrawsWhatTheWorkChanged) {
  auto raw = made_up_entry("A", {0.0, 0.0}, "2026-11-01T10:00:00");
  raw.subject.stage = "raw";
  auto final = raw;
  final.subject.stage = "<final>";
  final.recorded_at = "2026-11-02T10:00:00";
  final.notes[0].moderate.cents += 9;
  const ParsedPage page(history_page(history_of({raw, final}, BenchRepeat{}), history_source));
  EXPECT_TRUE(page.faults().empty());
  EXPECT_EQ(page.words("//h1"), "A");
  EXPECT_EQ(page.words("//h2[@id='step-1']"), "What changed from raw to <final>");
  EXPECT_EQ(page.count("//section[h2[@id='step-1']]//td//circle[@class='dot move']"), 1U);
  EXPECT_TRUE(has(page.words("//main"), "An unchanged flute recorded again"));
  EXPECT_TRUE(ParsedPage(history_page(history_of({raw}, std::nullopt), history_source)).faults().empty());
}

}  // namespace
}  // namespace windway
