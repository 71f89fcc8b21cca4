// SPDX-License-Identifier: GPL-3.0-or-later
// A bench file says all of a call of windway batch.
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

/// Three takes of the small bench with a bench file beside them.
struct BenchFile : testing::Test {
  BenchFile() {
    fs::create_directory(folder.path("takes"));
    fs::copy_file(take_with(""), folder.path("takes/HW-1_final.flac"));
    fs::copy_file(take_with("one note off"), folder.path("takes/HW-2_final.flac"));
    fs::copy_file(take_with("", 1), folder.path("takes/HW-3_raw.flac"));
    fs::copy_file(small_bench() + "/d-whistle.toml", folder.path("whistle.toml"));
    write_file(folder.path("manifest.csv"),
               "take,serial,stage,lot,head_out_mm\n"
               "takes/HW-1_final.flac,HW-1,final,a,5\ntakes/HW-2_final.flac,HW-2,final,b,5\n"
               "takes/HW-3_raw.flac,HW-3,raw,a,5\n");
    write_file(file, text);
  }

  ProgramRun run(std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"batch", file});
    return run_windway(more);
  }

  ScratchFolder folder;
  std::string file = folder.path("bench.toml");
  std::string text =
      "instrument = \"whistle.toml\"\nmanifest = \"manifest.csv\"\nstage = \"final\"\nresults = \"r.jsonl\"\n"
      "group_by = \"lot\"\nwarm = true\n[limits]\ntolerance_cents = 12\nhead_out_range_mm = [1, 12]\n";
};

TEST_F(BenchFile, SaysTheWholeCallWhereverItIsRun) {
  const ProgramRun by_file = run();
  const ProgramRun by_words =
      run_windway({"batch", "--instrument", folder.path("whistle.toml"), "--manifest", folder.path("manifest.csv"),
                   "--stage", "final", "--group-by", "lot", "--tolerance", "12", "--head-out-range", "1:12", "--warm"});
  EXPECT_EQ(by_file.out, by_words.out);
  EXPECT_EQ(by_file.exit_status, 1);
  EXPECT_TRUE(fs::exists(folder.path("r.jsonl")));
}

TEST_F(BenchFile, GoesOnWithItsResults) {
  const ProgramRun first = run();
  const auto written = fs::last_write_time(folder.path("r.jsonl"));
  const std::string results = read_file(folder.path("r.jsonl"));
  const ProgramRun again = run();
  EXPECT_EQ(again.out, first.out);
  EXPECT_EQ(read_file(folder.path("r.jsonl")), results);
  EXPECT_EQ(fs::last_write_time(folder.path("r.jsonl")), written);
}

TEST_F(BenchFile, IsOutrankedByTheCall) {
  const ProgramRun wide = run({"--tolerance", "100", "--max-octave", "100", "--results", folder.path("other.jsonl")});
  EXPECT_EQ(wide.exit_status, 0) << wide.out << wide.err;
  EXPECT_TRUE(fs::exists(folder.path("other.jsonl")));
  EXPECT_FALSE(fs::exists(folder.path("r.jsonl")));
}

/// What the file says for each option, and what another call says.
TEST_F(BenchFile, EachOfItsKeysIsAnOptionAndEachOptionOutranksIt) {
  const std::string others =
      "instrument = \"whistle.toml\"\nmanifest = \"manifest.csv\"\nserial_from = \"{serial}_{stage}\"\n";
  for (const auto& [key, said, option, meant] :
       std::vector<std::array<std::string, 4>>{{"stage", "\"final\"", "--stage", "raw"},
                                               {"keeper", "\"HW-1\"", "--keeper", "HW-3"},
                                               {"group_by", "\"lot\"", "--group-by", "stage"},
                                               {"verdict_from", "\"last\"", "--verdict-from", "all"},
                                               {"quote_at_c", "30", "--quote-at", "20"}}) {
    const auto line = [&](std::string value) { return others + key + " = " + value + "\n"; };
    write_file(file, line(said));
    const ProgramRun by_option = run({option, meant});
    const ProgramRun by_file = run();
    write_file(file, line(key == "quote_at_c" ? meant : "\"" + meant + "\""));
    EXPECT_EQ(by_option.out, run().out) << key;
    EXPECT_TRUE(key == "verdict_from" || by_file.out != by_option.out) << key;
  }
}

TEST_F(BenchFile, StandsAlone) {
  const ProgramRun refused = run({folder.path("takes")});
  EXPECT_EQ(refused.exit_status, 2);
  EXPECT_TRUE(has(refused.err, "give a bench file alone")) << refused.err;
}

TEST_F(BenchFile, NamesTakesWhereThereIsNoManifest) {
  write_file(file, "instrument = \"whistle.toml\"\ntakes = [\"takes\"]\nserial_from = \"{serial}_{stage}\"\n");
  const ProgramRun by_file = run();
  EXPECT_EQ(by_file.out, run_windway({"batch", folder.path("takes"), "--instrument", folder.path("whistle.toml"),
                                      "--serial-from", "{serial}_{stage}"})
                             .out);
  EXPECT_TRUE(has(by_file.out, "HW-2 final")) << by_file.out;
}

TEST_F(BenchFile, TheKeepersDaysAreTakenOutAndDaysWithoutItSaid) {
  write_file(folder.path("manifest.csv"),
             "take,serial,recorded_at,head_out_mm\ntakes/HW-1_final.flac,K,2026-03-02,5\n"
             "takes/HW-2_final.flac,HW-2,2026-03-04,5\ntakes/HW-3_raw.flac,HW-3,,5\n");
  fs::copy_file(take_with("", 3), folder.path("takes/K_2.flac"));
  std::ofstream(folder.path("manifest.csv"), std::ios::app) << "takes/K_2.flac,K,2026-03-03,5\n";
  write_file(file,
             "instrument = \"whistle.toml\"\nmanifest = \"manifest.csv\"\nresults = \"r.jsonl\"\nkeeper = \"K\"\n");
  run();
  const ProgramRun by = run_windway({"summary", folder.path("r.jsonl"), "--by-keeper"});
  EXPECT_TRUE(has(by.err, "the keeper was not recorded on 1 day (2026-03-04)")) << by.err;
  EXPECT_TRUE(has(by.err, "1 take without a date is judged without correction")) << by.err;
  EXPECT_TRUE(has(unwrapped(by.out), "The keeper's offset of each day is taken out of the home A4s")) << by.out;
  EXPECT_EQ(run_windway({"summary", folder.path("r.jsonl"), "--keeper", "none", "--by-keeper"}).exit_status, 2);
  const ProgramRun one_day = run_windway({"summary", folder.path("r.jsonl"), "--keeper", "HW-2", "--by-keeper"});
  EXPECT_EQ(one_day.exit_status, 2);
  EXPECT_TRUE(has(one_day.err, "the keeper HW-2 needs takes that are dated, of two days at least")) << one_day.err;
}

TEST_F(BenchFile, SaysEachMistakeWithItsLine) {
  for (const auto& [mistaken, said] : std::vector<std::pair<std::string, std::string>>{
           {"manifset = \"m.csv\"\n", "line 1, manifset: "},
           {"manifest = 3\n", "line 1, manifest: "},
           {"takes = [\"takes\"]\n[limits]\ntolerance_cents = -1\n", "line 3, tolerance_cents: "},
           {"takes = [\"takes\"]\n[limits]\nhead_out_range_mm = [6, 2]\n", "line 3, head_out_range_mm: "},
           {"takes = [\"takes\"]\ngroup_by = \"colour\"\n", "line 2, group_by: must be one of head, lot, "},
           {"stage = \"final\"\n", "names no takes"},
           {"takes = [\n", "line "}}) {
    write_file(file, mistaken);
    const ProgramRun refused = run();
    EXPECT_EQ(refused.exit_status, 2) << mistaken;
    EXPECT_EQ(refused.out, "");
    EXPECT_TRUE(has(refused.err, file) && has(refused.err, said)) << refused.err;
  }
}

TEST_F(BenchFile, ThatIsNotThereIsAMistakeInTheCall) {
  fs::remove(file);
  EXPECT_EQ(run().exit_status, 2);
}

/// The bench's results, for what follows from them.
struct BenchResults : BenchFile {
  ProgramRun batch = run();
  ProgramRun summary(std::vector<std::string> more) const {
    more.insert(more.begin(), {"summary", folder.path("r.jsonl"), "--stage", "final"});
    return run_windway(more);
  }
};

TEST_F(BenchResults, AreJudgedAnewWithoutTheSound) {
  fs::remove_all(folder.path("takes"));
  EXPECT_EQ(summary({}).exit_status, 1);
  const ProgramRun wide = summary({"--tolerance", "100", "--max-octave", "100"});
  EXPECT_EQ(wide.exit_status, 0) << wide.out << wide.err;
  EXPECT_TRUE(wide.out.starts_with("2 of 2 instruments pass.")) << wide.out;
  EXPECT_TRUE(summary({"--tolerance", "0.1"}).out.starts_with("0 of 2 instruments pass, 2 fail"));
  EXPECT_EQ(summary({"--tolerance", "20", "--format", "jsonl"}).exit_status, 2);
}

TEST_F(BenchResults, LeaveTheHoldsOutUnlessTheyAreAskedFor) {
  const std::string light = read_file(folder.path("r.jsonl"));
  EXPECT_TRUE(Json::parse(lines_of(light).front())["holds"].is_null());
  EXPECT_EQ(run({"--with-holds"}).out, batch.out);
  const std::string whole = read_file(folder.path("r.jsonl"));
  EXPECT_FALSE(Json::parse(lines_of(whole).front())["holds"].empty());
  EXPECT_GT(2 * whole.size(), 3 * light.size());
  EXPECT_EQ(summary({}).exit_status, 1);
}

TEST_F(BenchResults, StandInTheOrderOfTheTakes) {
  fs::remove(folder.path("r.jsonl"));
  run({"--jobs", "3"});
  const std::string by_three = read_file(folder.path("r.jsonl"));
  fs::remove(folder.path("r.jsonl"));
  run({"--jobs", "1"});
  EXPECT_EQ(read_file(folder.path("r.jsonl")), by_three);
}

TEST_F(BenchFile, QuotesAtOneTemperatureWhereTheManifestSaysThem) {
  write_file(folder.path("manifest.csv"),
             "take,serial,stage,lot,head_out_mm,bore_temp_c\n"
             "takes/HW-1_final.flac,HW-1,final,a,5,19\ntakes/HW-3_raw.flac,HW-3,final,a,5,\n");
  const ProgramRun batch = run();
  EXPECT_TRUE(has(unwrapped(batch.out),
                  "All pitches are given for a bore at 25 degrees C; the bores were at 19. The manifest gives no "
                  "temperature for 1 take (HW-3); windway takes 25 degrees C for them"))
      << batch.out;
  const Json line = Json::parse(lines_of(read_file(folder.path("r.jsonl"))).front());
  EXPECT_EQ(line["settings"]["quote_at_c"], 25);
  EXPECT_EQ(line["batch"]["bore_temp_c"], 19);
  const auto quoted = [&](const std::string& bench, const std::vector<std::string>& more) {
    write_file(file, bench);
    fs::remove(folder.path("r.jsonl"));
    run(more);
    return Json::parse(lines_of(read_file(folder.path("r.jsonl"))).front())["settings"]["quote_at_c"];
  };
  write_file(folder.path("whistle.toml"), "quote_at_c = 18\n" + read_file(small_bench() + "/d-whistle.toml"));
  EXPECT_EQ(quoted(text, {}), 18);
  EXPECT_EQ(quoted("quote_at_c = 21\n" + text, {}), 21);
  EXPECT_EQ(quoted("quote_at_c = 21\n" + text, {"--quote-at", "23"}), 23);
}

/// A failing take on one day and its mending on the next, in two files of results.
TEST_F(BenchFile, ALaterDaysRetakeClearsAFailureInTheSummaryToo) {
  fs::copy_file(take_with("", 2), folder.path("takes/HW-2_mended.flac"));
  write_file(folder.path("first.csv"),
             "take,serial,recorded_at,head_out_mm\ntakes/HW-2_final.flac,HW-2,2026-03-02,5\n");
  write_file(folder.path("later.csv"),
             "take,serial,recorded_at,head_out_mm\ntakes/HW-2_mended.flac,HW-2,2026-03-03,5\n");
  for (const std::string day : {"first", "later"})
    run_windway({"batch", "--manifest", folder.path(day + ".csv"), "--instrument", folder.path("whistle.toml"),
                 "--results", folder.path(day + ".jsonl")});
  EXPECT_EQ(run_windway({"summary", folder.path("first.jsonl")}).exit_status, 1);
  const ProgramRun both = run_windway({"summary", folder.path("later.jsonl"), folder.path("first.jsonl")});
  EXPECT_EQ(both.exit_status, 0) << both.out;
  EXPECT_TRUE(has(unwrapped(both.out), "At their first take 0 of 1 instrument passed (0 %); 1 more passed at a later"))
      << both.out;
}

}  // namespace
}  // namespace windway::cli_tests
