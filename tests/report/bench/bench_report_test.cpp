// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "bench/made_up_entry.hpp"
#include "manifest/csv_table.hpp"
#include "report/bench/history_report.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

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
        entry.counting.counts = trial == 1 && player[13] == 'S';
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
  entries[3].judged.back().message =
      "F#5 is 21.3 cents sharp (± 0.4) with the head at its best place; the tolerance is 15";
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
       {"1 fails", "HW-1000: fails", "F#5 is 21.3 cents sharp", "Gauge study", "ash", "the keeper KEEP", "risen by"})
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
    bench[failing].work = {{true, "A5 and A6 are 15.2 cents flat: enlarge the hole that opens for A5."},
                           {false, "B5 and B6 differ."}};
  }
  const std::string text = written("text", bench);
  expect_no_line_too_wide(text);
  EXPECT_EQ(count_of(text, "Work: A5 and A6"), 2U) << text;
  EXPECT_LT(text.find("A5 is 15.3 cents flat"), text.find("Work: A5 and A6"));
  EXPECT_EQ(count_of(text, "warranties"), 1U) << text;
  EXPECT_EQ(count_of(text, "\n      B5 and B6 differ."), 2U) << text;
  for (const std::size_t failing : {3U, 8U}) bench[failing].work.erase(bench[failing].work.begin());
  EXPECT_EQ(count_of(written("text", bench), "warranties"), 0U);  // there is nothing to do at a hole
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
  EXPECT_EQ(count_of(differing, "these results mix different targets"), 1U) << differing;
}

TEST(BenchText, OfNoInstrumentSaysSo) {
  EXPECT_NE(bench_report("text", {}, "1")->finish({}).find("No instrument was measured."), std::string::npos);
}

/// The text of instruments that `change` makes of fifty alike, whose notes lie 1 to 3 cents off; a sentence a line.
template <typename Change>
std::string text_of_fifty(const Change& change, const TallyRules& with = {}) {
  BenchTally tally;
  tally.rules = with;
  const auto narrow = bench_report("text", with, "1");
  const auto wide = bench_report("text", with, "1", 500);
  for (int i = 0; i < 50; ++i) {
    const double wobble = 0.2 * ((i * 7 % 11) - 5.0);
    auto entry = made_up_entry("HW-" + std::to_string(1000 + i), {wobble, 2.0 - wobble, 0.5 * wobble, wobble},
                               std::to_string(2000 + i));
    change(i, entry);
    add(tally, entry);
    narrow->add(entry, "");
    wide->add(entry, "");
  }
  const std::string text = narrow->finish(tally);
  expect_no_line_too_wide(text);
  EXPECT_EQ(text.find("\n\n\n"), std::string::npos) << text;
  return wide->finish(tally);
}

/// The line that begins with that name, in two spaces.
std::string line_of(const std::string& text, const std::string& name) {
  const std::size_t begin = text.find("\n  " + name + " ");
  return begin == std::string::npos ? "" : text.substr(begin + 1, text.find('\n', begin + 1) - begin - 1);
}

TEST(BenchText, SaysOfWhatTheTakesWereWarned) {
  const std::string text = text_of_fifty([](int i, BenchEntry& entry) {
    if (i == 3 || i == 7) entry.warnings.push_back(WarningCode::clipped);
    if (i >= 20 && i < 32) entry.warnings.push_back(WarningCode::not_warm_yet);
  });
  EXPECT_TRUE(has(text, "  clipped: the recording is overloaded. 2 takes: HW-1003 and HW-1007.\n")) << text;
  EXPECT_TRUE(has(text, "12 takes: HW-1020, HW-1021, HW-1022 and 9 more.\n")) << text;
  EXPECT_FALSE(has(text_of_fifty([](int, BenchEntry&) {}), "Warnings"));
}

TEST(BenchText, SaysWhichInstrumentsTheStatisticsAreOf) {
  EXPECT_TRUE(has(text_of_fifty([](int, BenchEntry&) {}), "\nStatistics of 50 instruments.\n"));
  const std::string text = text_of_fifty([](int i, BenchEntry& entry) {
    if (i < 3) entry.warnings.push_back(WarningCode::scale_doubtful);
  });
  EXPECT_TRUE(has(text, "\nStatistics of 47 instruments; 3 are left out, not measured or doubtful.\n")) << text;
}

TEST(BenchText, MarksANoteThatIsTooWideOrOffCentre) {
  const std::string text = text_of_fifty([](int i, BenchEntry& entry) {
    entry.notes[1].moved->cents = 5.0 + (i % 2 == 0 ? 0.5 : -0.5);  // off by more than a third of 10
    entry.notes[2].moved->cents = i % 2 == 0 ? 4.0 : -4.0;          // Cp = 20 / 24
    entry.notes[3].moved->cents = 6.0 + (i % 2 == 0 ? 4.0 : -4.0);
    for (const EntryNote& note : entry.notes) {
      EntryJudged& each = entry.judged.emplace_back();
      each.judged = {.criterion = Criterion::note, .result = VerdictResult::pass, .note = note.id, .upper = 10.0};
    }
  });
  EXPECT_TRUE(has(text, "  note   n  mean   SD  flattest  sharpest    usual range   Cpk\n")) << text;
  EXPECT_EQ(line_of(text, "D5").find_last_not_of("0123456789. "), line_of(text, "D5").find(" to ") + 4) << text;
  EXPECT_TRUE(line_of(text, "E5").ends_with("  off centre")) << text;
  EXPECT_TRUE(line_of(text, "F#5").ends_with("  too wide")) << text;
  EXPECT_TRUE(line_of(text, "G#5").ends_with("  both")) << text;
  EXPECT_TRUE(has(text, "A Cpk above 1.33 is comfortable")) << text;
}

TEST(BenchText, GivesTheUsualRangeOfManyByTheirSharesAndOfFewByTheirSd) {
  const std::string many = text_of_fifty([](int i, BenchEntry& entry) {
    if (i == 0) entry.notes[0].moved->cents = -9.0;  // one of fifty is not usual
  });
  EXPECT_TRUE(has(line_of(many, "D5"), "-1.0 to +1.0")) << many;
  EXPECT_TRUE(has(line_of(many, "D5"), "-9.0")) << many;
  EXPECT_TRUE(has(many, "Usual range: 9 of 10 instruments are in it.\n")) << many;
  EXPECT_FALSE(has(many, "Cpk")) << many;  // nothing was asked
  const std::string few = text_of_fifty([](int i, BenchEntry& entry) {
    if (i >= 2) entry.counting.counts = false;
  });
  EXPECT_TRUE(has(few, "mean ± 2 SD")) << few;
  EXPECT_TRUE(has(few, "It takes 8 instruments to show which are out of step.")) << few;
}

TEST(BenchText, SaysHowWarmTheBoresWereUnlessThatIsAsThePitchesAreGiven) {
  const auto warm = [](double bore_c, std::optional<double> quoted_c, bool is_by_turns = false) {
    return text_of_fifty([=](int i, BenchEntry& entry) {
      entry.bore_temp_c = bore_c;
      entry.is_quoted = quoted_c.has_value();
      entry.air_c = quoted_c.value_or(bore_c) + (is_by_turns && i % 2 == 0 ? 1.0 : 0.0);
    });
  };
  EXPECT_FALSE(has(warm(25, 25), "bores were"));
  EXPECT_TRUE(has(warm(18, 25), "for a bore at 25 degrees C; the bores were at 18.")) << warm(18, 25);
  EXPECT_TRUE(has(warm(18, {}), "given as they sounded"));
  EXPECT_TRUE(has(warm(18, 25, true), "given for different temperatures"));
}

TEST(BenchText, SaysThatHomeA4sFallIntoDays) {
  const auto days = [](double hz_a_day) {
    return text_of_fifty([=](int i, BenchEntry& entry) {
      entry.recorded_at = i < 25 ? "2026-03-02" : "2026-03-03";
      entry.home_a4_hz = 440.0 + (i < 25 ? 0.0 : hz_a_day) + 0.1 * (i % 5);
    });
  };
  EXPECT_TRUE(has(days(2.0), "differ from day to day by more than chance: 440.2 Hz on 2026-03-02, 442.2 Hz on"));
  EXPECT_FALSE(has(days(0.0), "from day to day"));
}

TEST(BenchText, NamesNotesThatLieNearerToALimitThanTheBenchRepeats) {
  const auto near = [](double cents) {
    return text_of_fifty([=](int i, BenchEntry& entry) {
      if (i < 20) {  // ten flutes, each recorded twice, a cent apart
        entry.subject.serial = "R-" + std::to_string(i / 2);
        entry.counting.takes_of_subject = 2;
        entry.counting.counts = i % 2 == 1;
        entry.sha256 = std::to_string(i);
        entry.notes[0].moved->cents = i % 2 == 0 ? 0.5 : -0.5;
      }
      if (i != 40) return;
      entry.judged.push_back({{.criterion = Criterion::note,
                               .result = VerdictResult::pass,
                               .note = NoteId{74},
                               .value = cents,
                               .u95 = 0.005,
                               .lower = -10.0,
                               .upper = 10.0},
                              ""});
    });
  };
  EXPECT_TRUE(has(near(9.9), "too close to call, though one take alone seems sure: D5 of HW-1040. Record"))
      << near(9.9);
  EXPECT_FALSE(has(near(0.0), "too close to call"));
}

TEST(BenchText, ComparesNoGroupsWhereThereIsNoRest) {
  const auto of_lot = [](const std::optional<std::string>& lot) {
    TallyRules by_lot;
    by_lot.group_by = GroupBy::lot;
    return text_of_fifty([=](int, BenchEntry& entry) { entry.subject.lot = lot; }, by_lot);
  };
  EXPECT_TRUE(has(of_lot("B"), "All are of one lot, B: there is no rest to compare with.")) << of_lot("B");
  EXPECT_TRUE(has(of_lot({}), "No instrument gives its lot, so no groups are compared.")) << of_lot({});
}

TEST(BenchText, NamesEveryNoteThatAGroupSurelyHasOtherwise) {
  const std::string text = text_of_fifty(
      [](int i, BenchEntry& entry) {
        if (i < 49) entry.subject.lot = i % 3 == 0 ? "B" : "A";
        if (entry.subject.lot == "B") entry.notes[1].moved->cents -= 4.0;
        if (entry.subject.lot == "B") entry.notes[3].moved->cents -= 3.0;
        if (entry.subject.lot == "B") entry.notes[0].moved->cents += 2.0;
      },
      {.group_by = GroupBy::lot, .keeper = std::nullopt, .stage = std::nullopt});
  const std::string lot_b = line_of(text, "lot B:");
  EXPECT_TRUE(has(lot_b, "17 of 17 instruments pass.")) << lot_b;
  EXPECT_TRUE(has(lot_b, "E5 is ") && has(lot_b, " flatter than in the rest, G#5 ")) << lot_b;
  EXPECT_TRUE(has(lot_b, "; D5 is ") && has(lot_b, " sharper than in the rest.")) << lot_b;
  EXPECT_FALSE(has(lot_b, "F#5")) << lot_b;
  EXPECT_TRUE(has(text, "1 instrument is in none of these, as the lot is not given.")) << text;
  EXPECT_TRUE(has(text, "In 8 comparisons some would stand out by chance")) << text;
}

TEST(BenchText, SaysThatResultsRememberSeveralKeepers) {
  const std::string text = text_of_fifty([](int i, BenchEntry& entry) {
    entry.home_a4_hz = 440 + 0.01 * (i % 3);
    entry.counting.keeper = i < 20;
    if (i < 20) entry.subject.serial = i < 10 ? "KEEP-A" : "KEEP-B";
  });
  EXPECT_TRUE(has(text, "These results have several keepers (KEEP-A and KEEP-B)")) << text;
  EXPECT_TRUE(has(text, "the keeper KEEP-A, 10 takes,") && has(text, "the keeper KEEP-B, 10 takes,")) << text;
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
  EXPECT_NE(counts_in_words(counts(0, 0, 0, 2, 5)).find("5 instruments were measured; without a limit none is judged"),
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

TEST(BenchJson, SaysWarningsGroupsAndKeepersAsTheTextDoes) {
  auto entries = full_bench();
  entries[3].warnings = {WarningCode::clipped};
  const auto json = nlohmann::json::parse(written("json", entries));
  EXPECT_EQ(json["in_statistics"], 24);
  EXPECT_EQ(json["warnings"][0]["code"], "clipped");
  EXPECT_EQ(json["warnings"][0]["takes"], 1);
  EXPECT_EQ(json["warnings"][0]["first"][0], "HW-1000");
  EXPECT_EQ(json["group_by"], "lot");
  EXPECT_EQ(json["comparisons"], 8);  // one note of five is alike on all
  EXPECT_TRUE(json["groups"][0]["notes"][0]["is_sure"].is_boolean());
  EXPECT_EQ(json["keepers"][0]["serial"], "KEEP");
  EXPECT_EQ(json["keepers"][0]["takes"], 24);
}

TEST(BenchLines, AreHandedOnAsTheyCame) {
  EXPECT_EQ(written("jsonl", {made_up_entry("A", {}), made_up_entry("B", {})}),
            "{\"line\":\"A.wav\"}\n{\"line\":\"B.wav\"}\n");
}

const std::string csv_columns =
    "take,serial,stage,lot,material,head,operator,retake,recorded_at,remark,other,counts,verdict,reasons,error,"
    "warnings,"
    "slide_mm,slide_u95_mm,head_rests_mm,home_a4_hz,octave_cents,octave_u95_cents,evenness_cents,note,midi,register,"
    "moderate_cents,moderate_u95_cents,moved_cents,moved_u95_cents,spread_cents,spread_u95_cents,note_verdict";

TEST(BenchCsv, HasTheSameColumnsWhateverTheTakesMeasured) {
  EXPECT_EQ(written("csv", {}), csv_columns + "\r\n");
  EXPECT_EQ(written("csv", full_bench()).find(csv_columns + "\r\n"), 0U);
}

/// A report's cells by row and the column's name.
class Cells {
 public:
  explicit Cells(const std::vector<BenchEntry>& entries) : rows_(csv_rows(written("csv", entries), ',', "csv")) {
    for (const CsvTableRow& row : rows_) EXPECT_EQ(row.cells.size(), rows_[0].cells.size());
  }
  std::size_t rows() const { return rows_.size(); }
  std::string at(std::size_t row, const std::string& column) const {
    const auto& names = rows_[0].cells;
    return rows_.at(row).cells.at(static_cast<std::size_t>(std::ranges::find(names, column) - names.begin()));
  }

 private:
  std::vector<CsvTableRow> rows_;
};

TEST(BenchCsv, ReadsBackCellByCell) {
  auto entry = batch_tests::with_tolerance(10, made_up_entry("say \"A\", B", {1.5, -2.0}));
  entry.subject.remark = "two\nlines";
  entry.warnings = {WarningCode::clipped, WarningCode::not_warm_yet};
  const Cells cells({entry});
  ASSERT_EQ(cells.rows(), 3U);
  EXPECT_EQ(cells.at(1, "serial"), "say \"A\", B");
  EXPECT_EQ(cells.at(1, "remark"), "two\nlines");
  EXPECT_EQ(cells.at(1, "verdict"), "pass");
  EXPECT_EQ(cells.at(1, "warnings"), "clipped not_warm_yet");
  EXPECT_EQ(cells.at(1, "moved_cents"), "1.5");
  EXPECT_EQ(cells.at(2, "moved_cents"), "-2");
  EXPECT_EQ(cells.at(1, "note_verdict"), "pass");
  EXPECT_EQ(cells.at(2, "note_verdict"), "");
  EXPECT_EQ(cells.at(2, "note"), "E5");
  EXPECT_EQ(cells.at(1, "slide_mm"), "");
}

TEST(BenchCsv, HasAColumnForEachFurtherOneOfTheManifest) {
  auto first = made_up_entry("A", {1.0});
  first.subject.other = {{"wood", "pear"}, {"say, \"year\"", ""}, {"note", "warm"}};
  auto later = made_up_entry("B", {1.0});
  later.subject.other = {{"say, \"year\"", "2019"}, {"shop", "north"}, {"yard", ""}};
  const Cells cells({first, later});
  EXPECT_EQ(cells.at(1, "wood"), "pear");
  EXPECT_EQ(cells.at(1, "say, \"year\""), "");
  EXPECT_EQ(cells.at(1, "note"), "D5");  // the table's own name
  EXPECT_EQ(cells.at(1, "other"), "note=warm");
  EXPECT_EQ(cells.at(2, "wood"), "");
  EXPECT_EQ(cells.at(2, "say, \"year\""), "2019");
  EXPECT_EQ(cells.at(2, "other"), "shop=north");  // of another manifest
}

/// Judged on its lowest note by that criterion.
EntryJudged judged_on(int midi, Criterion criterion, VerdictResult result) {
  EntryJudged each;
  each.judged = {.criterion = criterion, .result = result, .note = NoteId{midi}};
  return each;
}

TEST(BenchCsv, GivesTheWorstOfWhatWasAskedOfANote) {
  auto entry = made_up_entry("A", {1.0, 1.0});
  entry.judged = {
      judged_on(74, Criterion::note, VerdictResult::pass), judged_on(74, Criterion::spread, VerdictResult::fail),
      judged_on(76, Criterion::note, VerdictResult::too_close), judged_on(76, Criterion::spread, VerdictResult::pass),
      judged_on(90, Criterion::heard, VerdictResult::not_measured)};
  const Cells cells({entry});
  ASSERT_EQ(cells.rows(), 4U);
  EXPECT_EQ(cells.at(1, "note_verdict"), "fail");
  EXPECT_EQ(cells.at(2, "note_verdict"), "too_close");
  EXPECT_EQ(cells.at(3, "note"), "F#6");  // it was not heard
  EXPECT_EQ(cells.at(3, "note_verdict"), "not_measured");
  EXPECT_EQ(cells.at(3, "moved_cents"), "");
}

TEST(BenchCsv, LetsNoSpreadsheetRunWhatAManifestSays) {
  auto entry = made_up_entry("=1+1", {-2.0});
  entry.subject.lot = "+A";
  entry.subject.stage = "-raw";
  entry.subject.head = "@SUM(A1)";
  entry.subject.material = "\tpear";
  entry.subject.remark = "\rx";
  entry.subject.operator_name = "a=b";
  entry.subject.other = {{"=own", "=cmd|' /C calc'!A0"}};
  const Cells cells({entry});
  EXPECT_EQ(cells.at(1, "serial"), "'=1+1");
  EXPECT_EQ(cells.at(1, "lot"), "'+A");
  EXPECT_EQ(cells.at(1, "stage"), "'-raw");
  EXPECT_EQ(cells.at(1, "head"), "'@SUM(A1)");
  EXPECT_EQ(cells.at(1, "material"), "'\tpear");
  EXPECT_EQ(cells.at(1, "remark"), "'\rx");
  EXPECT_EQ(cells.at(1, "operator"), "a=b");
  EXPECT_EQ(cells.at(1, "'=own"), "'=cmd|' /C calc'!A0");
  EXPECT_EQ(cells.at(1, "moved_cents"), "-2");  // a number stays one
}

TEST(BenchCsv, WritesADecimalCommaWithSemicolonsBetweenTheCells) {
  auto entry = made_up_entry("HW-1.5; A, B", {-2.25});
  const auto report = bench_report("csv", rules, "1", text_columns, CsvForm::comma_and_semicolons);
  const auto rows = csv_rows(report->add(entry, ""), ';', "csv");
  ASSERT_EQ(rows.size(), 2U);
  const auto& names = rows[0].cells;
  const auto at = [&](const char* name) {
    return rows[1].cells.at(static_cast<std::size_t>(std::ranges::find(names, name) - names.begin()));
  };
  EXPECT_EQ(at("serial"), "HW-1.5; A, B");  // text is left as it is
  EXPECT_EQ(at("moved_cents"), "-2,25");
  EXPECT_EQ(at("moderate_cents"), "0,75");
}

TEST(StatisticsCsv, HasARowForEachNoteOfTheBenchOfItsGroupsAndForItsKeeper) {
  const auto entries = full_bench();
  const auto json = nlohmann::json::parse(written("json", entries));
  const auto rows = csv_rows(written("csv-statistics", entries), ',', "csv");
  const auto& names = rows[0].cells;
  const auto at = [&](const CsvTableRow& row, const char* name) {
    EXPECT_EQ(row.cells.size(), names.size());
    return row.cells.at(static_cast<std::size_t>(std::ranges::find(names, name) - names.begin()));
  };
  std::map<std::string, int> of;
  for (std::size_t row = 1; row < rows.size(); ++row) ++of[at(rows[row], "of")];
  EXPECT_EQ(of, (std::map<std::string, int>{{"bench", 6}, {"group", 10}, {"keeper", 1}}));
  EXPECT_EQ(at(rows[1], "pass"), "23");
  EXPECT_EQ(at(rows[1], "fail"), "1");
  EXPECT_EQ(at(rows[1], "note"), "");
  const CsvTableRow& note = rows[4];
  EXPECT_EQ(at(note, "note"), "F#5");
  EXPECT_EQ(at(note, "n"), "24");
  const auto expect_alike = [&](const char* column, const nlohmann::json& value) {
    EXPECT_NEAR(std::stod(at(note, column)), value.get<double>(), 1e-6) << column;
  };
  const auto& known = json["notes"][2];
  expect_alike("mean_cents", known["left"]["mean_cents"]);
  expect_alike("sd_cents", known["left"]["sd_cents"]);
  expect_alike("max_cents", known["left"]["max_cents"]);
  expect_alike("share_5_cents", known["share_5_cents"]);
  expect_alike("share_25_cents", known["share_25_cents"]);
  expect_alike("share_75_cents", known["share_75_cents"]);
  expect_alike("chart_upper_cents", known["chart"]["upper_cents"]);
  expect_alike("repeatability_sd_cents", known["repeatability"]["sd_cents"]);
  expect_alike("between_sd_cents", known["repeatability"]["between_sd_cents"]);
  expect_alike("gauge_percent", known["gauge_by_anova"]["gauge_percent"]);
  EXPECT_EQ(at(note, "above_rest_cents"), "");
  const CsvTableRow& ash = rows[8];
  EXPECT_EQ(at(ash, "of") + " " + at(ash, "name") + " " + at(ash, "note"), "group ash D5");
  EXPECT_NEAR(std::stod(at(ash, "above_rest_cents")), json["groups"][0]["notes"][0]["above_rest_cents"].get<double>(),
              1e-6);
  const CsvTableRow& keeper = rows.back();
  EXPECT_EQ(at(keeper, "name"), "KEEP");
  EXPECT_EQ(at(keeper, "n"), "24");
  EXPECT_NEAR(std::stod(at(keeper, "rise_cents")), json["keeper"]["rise_cents"].get<double>(), 1e-6);
  EXPECT_NEAR(std::stod(at(keeper, "mean_home_a4_hz")), json["keeper"]["mean_home_a4_hz"].get<double>(), 1e-6);
}

TEST(StatisticsCsv, HasARowForEachDayOfTheKeeper) {
  std::vector<BenchEntry> entries;
  for (int take = 0; take < 16; ++take) {
    entries.push_back(
        made_up_entry("KEEP", {0.0}, "2026-03-" + std::to_string(11 + take / 2) + "T0" + std::to_string(take % 2)));
    entries.back().home_a4_hz = 440 + 0.01 * (take % 3);
  }
  const auto rows = csv_rows(written("csv-statistics", entries), ',', "csv");
  ASSERT_EQ(rows.size(), 1U + 1U + 1U + 8U);  // the columns, the verdicts, the keeper, its days
  EXPECT_EQ(rows[3].cells[0], "day");
  EXPECT_EQ(rows[3].cells[1], "KEEP");
  EXPECT_EQ(rows[3].cells[2], "2026-03-11");
}

TEST(BenchCsv, HasOneRowForATakeThatCouldNotBeMeasured) {
  auto entry = made_up_entry("A", {});
  entry.error = "cut short, sadly";
  const Cells cells({entry});
  ASSERT_EQ(cells.rows(), 2U);
  EXPECT_EQ(cells.at(1, "error"), "cut short, sadly");
}

TEST(HistoryReports, TellWhatTheWorkChanged) {
  auto raw = made_up_entry("A", {0.0, 0.0}, "2026-11-01T10:00:00");
  raw.subject.stage = "raw";
  raw.path = "bench/2026/november/first-recordings/A_raw_1.wav";
  auto final = raw;
  final.recorded_at = "2026-11-02T10:00:00";
  final.subject.stage = "final";
  final.notes[0].moderate.cents += 9;
  const History history = history_of({raw, final}, BenchRepeat{});
  const std::string text = text_of(history_prose(history));
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
