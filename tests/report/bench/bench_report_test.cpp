// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "bench/made_up_entry.hpp"
#include "report/bench/bench_csv.hpp"
#include "report/bench/history_report.hpp"
#include "report/wording/layout.hpp"
#include "takes/csv_table.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::one_of;

/// Lots, operators, a keeper that rises, a stray and one that fails: something for every part of the report.
std::vector<BenchEntry> full_bench() {
  std::vector<BenchEntry> entries;
  for (int i = 0; i < 24; ++i) {
    const double wobble = (i * 7 % 11) - 5.0;
    for (const char* player :
         {"Operator the First of the Northern Workshop", "Operator the Second of the Southern Workshop"})
      for (int trial = 0; trial < 2; ++trial) {
        auto entry =
            one_of(4, made_up_entry("HW-" + std::to_string(1000 + i),
                                    {wobble + 0.1 * trial, 2.0, 0.3 * i, wobble, -1.0}, std::to_string(2000 + i)));
        entry.subject.operator_name = player;
        entry.subject.lot = i % 2 == 0 ? "ash" : "box";
        entry.counts = trial == 1 && player[13] == 'S';
        entry.home_a4_hz = 440 + 0.01 * wobble;
        entry.head_rests_mm = 5 + 0.1 * wobble;
        entries.push_back(entry);
      }
    auto keeper = made_up_entry("KEEP", {0.0}, std::to_string(2000 + i));
    keeper.home_a4_hz = 440 + 0.1 * i;
    entries.push_back(keeper);
  }
  entries[3].result = VerdictResult::fail;
  entries[3].judged.emplace_back().judged.criterion = Criterion::octave;
  entries[3].judged.back().message = "F#5 is 21.3 cents sharp (± 0.4) after the best move; the tolerance is 15";
  entries[3].notes[1].moved = CentsEstimate{40.0, 0.5};
  return entries;
}

const TallyRules rules{.group_by = GroupBy::lot, .keeper = "KEEP", .stage = std::nullopt};

BenchTally tally_of(const std::vector<BenchEntry>& entries) {
  BenchTally tally;
  tally.rules = rules;
  for (const BenchEntry& entry : entries) add(tally, entry);
  return tally;
}

std::string written(const std::string& format, const std::vector<BenchEntry>& entries) {
  const auto report = bench_report(format, rules, "1.2.3");
  std::string text;
  for (const BenchEntry& entry : entries) text += report->add(entry, "{\"line\":\"" + entry.path + "\"}");
  return text + report->finish(tally_of(entries));
}

void expect_no_line_too_wide(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), text_columns) << line;
}

TEST(BenchText, HasNoLineWiderThanTheScreen) {
  const std::string text = written("text", full_bench());
  expect_no_line_too_wide(text);
  for (const char* part :
       {"1 fails", "HW-1000: fails", "F#5 is 21.3 cents sharp", "Gauge study", "ash", "The keeper KEEP", "risen by"})
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

TEST(BenchText, HasTheWorkBelowTheReasonsAndItsCautionsOnce) {
  std::vector<BenchEntry> bench = full_bench();
  for (const std::size_t failing : {3U, 8U}) {
    bench[failing].result = VerdictResult::fail;
    bench[failing].judged.emplace_back().message = "A5 is 15.3 cents flat";
    bench[failing].work = {{true, "A5 and A6 are 15.2 cents flat: open the hole that opens for A5."},
                           {false, "B5 and B6 differ."}};
  }
  const std::string text = written("text", bench);
  expect_no_line_too_wide(text);
  EXPECT_EQ(count_of(text, "Work: A5 and A6"), 2U) << text;
  EXPECT_LT(text.find("A5 is 15.3 cents flat"), text.find("Work: A5 and A6"));
  EXPECT_EQ(count_of(text, "hardly closed"), 1U) << text;
  EXPECT_EQ(count_of(text, "\n      B5 and B6 differ."), 2U) << text;
  for (const std::size_t failing : {3U, 8U}) bench[failing].work.erase(bench[failing].work.begin());
  EXPECT_EQ(count_of(written("text", bench), "hardly closed"), 0U);  // there is nothing to do at a hole
}

TEST(BenchText, SaysOnceWhereNotesAreMeantUnlessInstrumentsDiffer) {
  std::vector<BenchEntry> bench = full_bench();
  for (BenchEntry& entry : bench) entry.targets = {{{79}, -8.0}};
  const std::string text = written("text", bench);
  EXPECT_EQ(count_of(text, "G5 8 cents flat"), 1U) << text;
  expect_no_line_too_wide(text);
  bench[3].targets.clear();
  const std::string differing = written("text", bench);
  EXPECT_EQ(count_of(differing, "G5 8 cents flat"), 0U);
  EXPECT_EQ(count_of(differing, "results for different targets were put together"), 1U) << differing;
}

TEST(BenchText, OfNoInstrumentSaysSo) {
  EXPECT_NE(bench_report("text", {}, "1")->finish({}).find("No instrument was measured."), std::string::npos);
}

VerdictCounts counts(std::uint64_t pass, std::uint64_t fail, std::uint64_t close, std::uint64_t unmeasured,
                     std::uint64_t unasked = 0) {
  return {.by_result = {pass, fail, close, unmeasured}, .measured_only = unasked};
}

TEST(CountsInWords, SayWhatThereIs) {
  EXPECT_EQ(counts_in_words(counts(194, 4, 1, 1)),
            "194 of 200 instruments pass, 4 fail, 1 is too close to call, 1 was not measured.");
  EXPECT_EQ(counts_in_words(counts(1, 0, 0, 0)), "1 of 1 instrument passes.");
  EXPECT_EQ(counts_in_words(counts(0, 0, 0, 0)), "No instrument was measured.");
  EXPECT_NE(counts_in_words(counts(0, 0, 0, 2, 5)).find("5 instruments were measured; nothing was asked"),
            std::string::npos);
}

TEST(CountsInWords, TellOfFailuresWhereOthersWereAskedNothing) {
  const std::string words = counts_in_words(counts(3, 2, 1, 0, 5));
  for (const char* part : {"2 fail", "3 of", "1 is too close", "5"})
    EXPECT_NE(words.find(part), std::string::npos) << words;
}

TEST(BenchJson, HasTheFiguresOfTheTally) {
  const auto entries = full_bench();
  const auto json = nlohmann::json::parse(written("json", entries));
  EXPECT_EQ(json["schema"], "windway.summary.v1");
  EXPECT_EQ(json["program"]["version"], "1.2.3");
  EXPECT_EQ(json["takes"], entries.size());
  EXPECT_EQ(json["overtaken"], 72);
  EXPECT_EQ(json["verdicts"]["pass"], 23);
  EXPECT_EQ(json["verdicts"]["fail"], 1);
  EXPECT_EQ(json["notes"].size(), 5U);
  EXPECT_EQ(json["notes"][2]["note"], "F#5");
  EXPECT_EQ(json["notes"][2]["left"]["n"], 24);
  EXPECT_NEAR(json["notes"][2]["left"]["mean_cents"].get<double>(), 0.3 * 11.5, 1e-6);
  EXPECT_NEAR(json["notes"][2]["left"]["max_cents"].get<double>(), 0.3 * 23, 1e-6);
  EXPECT_TRUE(json["notes"][2]["cp"].is_null());
  EXPECT_EQ(json["notes"][1]["outliers"].size(), 1U);
  EXPECT_EQ(json["notes"][1]["outliers"][0]["name"], "HW-1000");
  EXPECT_EQ(json["groups"].size(), 2U);
  EXPECT_EQ(json["operators"].size(), 2U);
  EXPECT_EQ(json["keeper"]["takes"], 24);
  EXPECT_GT(json["keeper"]["rise_cents"].get<double>(), 8.0);  // 2.3 Hz of 440
}

TEST(BenchJson, OfNothingIsStillWhole) {
  const auto json = nlohmann::json::parse(written("json", {}));
  EXPECT_EQ(json["takes"], 0);
  EXPECT_TRUE(json["advice"].is_null() && json["a4_hz"].is_null());
  EXPECT_TRUE(json["head_rests"]["mean_mm"].is_null());
}

TEST(BenchLines, AreHandedOnAsTheyCame) {
  EXPECT_EQ(written("jsonl", {made_up_entry("A", {}), made_up_entry("B", {})}),
            "{\"line\":\"A.wav\"}\n{\"line\":\"B.wav\"}\n");
}

TEST(BenchCsv, HasTheSameColumnsWhateverTheData) {
  const std::string header =
      "take,serial,stage,lot,material,head,operator,retake,recorded_at,remark,other,counts,verdict,reasons,error,slide_"
      "mm,"
      "slide_u95_mm,head_rests_mm,home_a4_hz,octave_cents,octave_u95_cents,evenness_cents,note,midi,register,"
      "moderate_cents,moderate_u95_cents,moved_cents,moved_u95_cents,spread_cents,spread_u95_cents,note_verdict\r\n";
  EXPECT_EQ(bench_csv_header(), header);
  EXPECT_EQ(written("csv", {}), header);
  EXPECT_EQ(written("csv", full_bench()).find(header), 0U);
}

TEST(BenchCsv, ReadsBackCellByCell) {
  auto entry = batch_tests::with_tolerance(10, made_up_entry("say \"A\", B", {1.5, -2.0}));
  entry.subject.remark = "two\nlines";
  entry.subject.other = {{"own", "x"}, {"more", "y"}};
  const auto rows = csv_rows(written("csv", {entry}), ',', "csv");
  ASSERT_EQ(rows.size(), 3U);
  for (const CsvTableRow& row : rows) ASSERT_EQ(row.cells.size(), rows[0].cells.size());
  const auto cell = [&](std::size_t row, const std::string& column) {
    return rows[row].cells[static_cast<std::size_t>(std::ranges::find(rows[0].cells, column) - rows[0].cells.begin())];
  };
  EXPECT_EQ(cell(1, "serial"), "say \"A\", B");
  EXPECT_EQ(cell(1, "remark"), "two\nlines");
  EXPECT_EQ(cell(1, "other"), "own=x; more=y");
  EXPECT_EQ(cell(1, "verdict"), "pass");
  EXPECT_EQ(cell(1, "moved_cents"), "1.5");
  EXPECT_EQ(cell(2, "moved_cents"), "-2");
  EXPECT_EQ(cell(1, "note_verdict"), "pass");
  EXPECT_EQ(cell(2, "note_verdict"), "");
  EXPECT_EQ(cell(2, "note"), "E5");
  EXPECT_EQ(cell(1, "slide_mm"), "");
}

TEST(BenchCsv, HasOneRowForATakeThatCouldNotBeMeasured) {
  auto entry = made_up_entry("A", {});
  entry.error = "cut short, sadly";
  const auto rows = csv_rows(written("csv", {entry}), ',', "csv");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[1].cells[14], "cut short, sadly");
}

TEST(HistoryReports, TellWhatTheWorkChanged) {
  auto raw = made_up_entry("A", {0.0, 0.0}, "2026-11-01T10:00:00");
  raw.subject.stage = "raw";
  raw.path = "bench/2026/november/first-recordings/A_raw_1.wav";
  auto final = raw;
  final.recorded_at = "2026-11-02T10:00:00";
  final.subject.stage = "final";
  final.notes[0].moderate.cents += 9;
  const History history = history_of({raw, final});
  const std::string text = history_text(history);
  EXPECT_NE(text.find("raw to final: cents: D5 +9.0 (± 0.7)"), std::string::npos) << text;
  expect_no_line_too_wide(text);
  const auto json = nlohmann::json::parse(history_json(history, "1"));
  EXPECT_EQ(json["schema"], "windway.history.v1");
  EXPECT_EQ(json["takes"].size(), 2U);
  EXPECT_EQ(json["steps"][0]["notes"][0]["change_cents"], 9.0);
  EXPECT_EQ(json["steps"][0]["notes"][0]["is_real"], true);
  EXPECT_EQ(json["steps"][0]["notes"][1]["is_real"], false);
  EXPECT_EQ(csv_rows(history_csv(history), ',', "csv").size(), 5U);
}

}  // namespace
}  // namespace windway
