// SPDX-License-Identifier: GPL-3.0-or-later
// The printed page for the buyer of an instrument.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

ProgramRun sheet(const Words& words, const std::string& in_path = "/dev/null") {
  Words call{"sheet"};
  call.insert(call.end(), words.begin(), words.end());
  return run_windway(call, {.in_path = in_path});
}

std::string heading_of(const std::string& page) {
  pugi::xml_document parsed;
  EXPECT_TRUE(parsed.load_string(page.c_str())) << page.substr(0, 200);
  return parsed.select_node("//h1").node().text().get();
}

std::string replaced(std::string text, const std::string& part, const std::string& by) {
  const std::size_t at = text.find(part);
  return at == std::string::npos ? text : text.replace(at, part.size(), by);
}

std::string serial_of(const std::string& take) { return fs::path(take).filename().string().substr(0, 7); }

/// The results of three instruments, two good ones and one with a note far off.
struct Sheet : testing::Test {
  Sheet() {
    run_windway(
        batch_call({good, another_good, bad, "--serial-from", "{serial}_{stage}_{retake}", "--results", results}));
  }

  std::vector<Json> lines() const {
    std::vector<Json> all;
    for (const std::string& line : lines_of(read_file(results))) all.push_back(Json::parse(line));
    return all;
  }
  /// The first line once for each of these serials.
  std::string with_serials(const Words& serials) const {
    std::string text;
    const std::string line = lines_of(read_file(results)).front();
    const std::string own = "\"serial\":\"" + serial_of(good) + "\"";
    for (const std::string& serial : serials) {
      std::string other = line;
      other.replace(other.find(own), own.size(), "\"serial\":" + Json(serial).dump());
      text += other + "\n";
    }
    write_file(folder.path("serials.jsonl"), text);
    return folder.path("serials.jsonl");
  }

  const std::string good = take_with(""), another_good = take_with("", 1), bad = take_with("one note off");
  ScratchFolder folder;
  std::string results = folder.path("r.jsonl");
};

TEST_F(Sheet, OfASerialHasItsVerdictPlaceAndMaker) {
  const ProgramRun run = sheet({serial_of(good), "--results", results});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(run.err, "");
  EXPECT_EQ(heading_of(run.out), serial_of(good));
  for (const char* part :
       {"It passed: 15 notes within 25 cents", "spread of 15 notes at most 60 cents", "the head at 2 to 8",
        "Wrackle whistle in D", "Hesper Wrackle", "Set the head", "How hard to blow each note", "3 Osier Lane"})
    EXPECT_TRUE(has(run.out, part)) << part;
  EXPECT_TRUE(has(run.out, lines()[0]["takes"][0]["sha256"].get<std::string>().substr(0, 16)));
  EXPECT_EQ(sheet({serial_of(good), "--results", results}).out, run.out);
}

TEST_F(Sheet, OfAnInstrumentThatFailsSaysSo) {
  const ProgramRun run = sheet({serial_of(bad), "--results", results, "--output", folder.path("s.html")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(run.out, "");
  const std::string page = read_file(folder.path("s.html"));
  EXPECT_TRUE(has(page, "It failed: "));
  EXPECT_FALSE(has(page, "It passed"));
}

TEST_F(Sheet, OfAllWritesThoseThatPassAndTellsTheRest) {
  const std::string place = folder.path("new/sheets");
  const ProgramRun run = sheet({"--all", "--results", results, "--output", place});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "2 sheets written to " + place)) << run.out;
  EXPECT_TRUE(has(run.out, serial_of(bad) + " is left out: fails: ")) << run.out;
  EXPECT_TRUE(fs::exists(place + "/" + serial_of(good) + ".html"));
  EXPECT_TRUE(fs::exists(place + "/" + serial_of(another_good) + ".html"));
  EXPECT_FALSE(fs::exists(place + "/" + serial_of(bad) + ".html"));
  fs::copy_file(place + "/" + serial_of(good) + ".html", place + "/" + serial_of(bad) + ".html");
  EXPECT_TRUE(has(unbroken(sheet({"--all", "--results", results, "--output", place}).out), "an earlier sheet of it"));
}

TEST_F(Sheet, WritesNothingOutsideItsFolder) {
  const std::string place = folder.path("a/sheets");
  const Words serials{"../../x", "/x", "..", "hw-1", "HW-1", "<b>"};
  const ProgramRun run = sheet({"--all", "--results", with_serials(serials), "--output", place});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  std::size_t pages = 0;
  for (const auto& entry : fs::directory_iterator(place)) {
    EXPECT_NE(std::ranges::find(serials, heading_of(read_file(entry.path().string()))), serials.end());
    ++pages;
  }
  EXPECT_EQ(pages, serials.size());
  EXPECT_EQ(folder.contents(), (Words{"a", "r.jsonl", "serials.jsonl"}));
}

TEST_F(Sheet, FollowsNoLinkInItsFolder) {
  const std::string place = folder.path("sheets");
  fs::create_directory(place);
  fs::create_symlink(folder.path("elsewhere.html"), place + "/" + serial_of(another_good) + ".html");
  const ProgramRun run = sheet({"--all", "--results", results, "--output", place});
  EXPECT_EQ(run.exit_status, 4);
  EXPECT_TRUE(has(run.err, "is not a plain file")) << run.err;
  EXPECT_TRUE(has(run.out, "1 sheet written to ")) << run.out;  // what was done until then
  EXPECT_FALSE(fs::exists(folder.path("elsewhere.html")));
}

TEST_F(Sheet, OfAllNeverTouchesAPlainFileAtItsFolder) {
  const std::string notes = folder.path("notes.txt");
  write_file(notes, "mine");
  EXPECT_EQ(sheet({"--all", "--results", results, "--output", notes}).exit_status, 4);
  EXPECT_EQ(sheet({"--all", serial_of(good), "--results", results, "--output", notes}).exit_status, 2);
  EXPECT_EQ(sheet({"--all", "--results", folder.path("none.jsonl"), "--output", notes}).exit_status, 3);
  EXPECT_EQ(read_file(notes), "mine");
}

TEST_F(Sheet, OfAllWritesOverNoFileThatIsNoSheet) {
  const std::string place = folder.path("sheets"), own = place + "/" + serial_of(good) + ".html";
  fs::create_directory(place);
  write_file(own, "<html>mine</html>");
  const ProgramRun run = sheet({"--all", "--results", results, "--output", place});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(unbroken(run.out), "is not a sheet: move it away")) << run.out;
  EXPECT_TRUE(has(run.out, "1 sheet written to ")) << run.out;
  EXPECT_EQ(read_file(own), "<html>mine</html>");
  // An earlier sheet is written anew.
  const std::string another = place + "/" + serial_of(another_good) + ".html";
  write_file(another, read_file(another) + "<!-- earlier -->");
  sheet({"--all", "--results", results, "--output", place});
  EXPECT_FALSE(has(read_file(another), "<!-- earlier -->"));
}

TEST_F(Sheet, OfAllWritesOverNoneOfItsInputs) {
  const std::string place = folder.path("sheets"), input = place + "/" + serial_of(good) + ".html";
  fs::create_directory(place);
  fs::copy_file(results, input);
  const ProgramRun run = sheet({"--all", "--results", input, "--output", place});
  EXPECT_TRUE(has(unbroken(run.out), "which this run reads")) << run.out;
  EXPECT_EQ(read_file(input), read_file(results));
}

TEST_F(Sheet, OfAllLeavesOutWhatIsNoneOfTheMakersInstrument) {
  const std::string other = folder.path("other.toml");
  write_file(other, "kind = \"whistle\"\nlowest = \"C5\"\n[maker]\nname = \"Another Maker\"\n");
  const ProgramRun run =
      sheet({"--all", "--results", results, "--output", folder.path("sheets"), "--instrument", other});
  EXPECT_EQ(run.exit_status, 3) << run.err;
  EXPECT_TRUE(has(run.out, "0 sheets written")) << run.out;
  EXPECT_TRUE(has(unbroken(run.out), serial_of(good) + " is left out: --instrument is a ")) << run.out;
}

TEST_F(Sheet, OfSeveralStagesIsOfTheLastByDate) {
  const Words own = lines_of(read_file(results));
  const auto taken = [&](const std::string& line, const std::string& stage, const std::string& date) {
    return replaced(
        replaced(replaced(line, serial_of(bad), serial_of(good)), "\"stage\":\"final\"", "\"stage\":\"" + stage + "\""),
        "\"recorded_at\":null", "\"recorded_at\":\"" + date + "\"");
  };
  const std::string both = folder.path("stages.jsonl");
  const auto write_dates = [&](const std::string& raw, const std::string& final) {
    write_file(both, taken(own.front(), "final", final) + "\n" + taken(own.back(), "raw", raw) + "\n");
  };
  write_dates("2026-03-02", "2026-03-05");
  EXPECT_TRUE(has(sheet({serial_of(good), "--results", both}).out, "It passed"));
  write_dates("2026-03-05T08:30", "2026-03-05");  // that day, before or after
  const ProgramRun unclear = sheet({serial_of(good), "--results", both});
  EXPECT_EQ(unclear.exit_status, 2) << unclear.err;
  EXPECT_TRUE(has(unclear.err, "it has takes of the stages final and raw; their dates do not say")) << unclear.err;
  EXPECT_TRUE(has(sheet({serial_of(good), "--results", both, "--stage", "final"}).out, "It passed"));
  const ProgramRun all = sheet({"--all", "--results", both, "--output", folder.path("sheets")});
  EXPECT_EQ(all.exit_status, 3);
  EXPECT_TRUE(has(unbroken(all.out), "give --stage")) << all.out;
  write_file(both, replaced(read_file(both), "\"stage\":\"raw\"", "\"stage\":null"));
  const ProgramRun one = sheet({serial_of(good), "--results", both});
  EXPECT_TRUE(has(one.err, "it has takes of stage final, and takes without a stage; their dates")) << one.err;
}

TEST_F(Sheet, WhereAllTakesCountHasTheWorstVerdictOfItsStage) {
  const Words own = lines_of(read_file(results));
  const auto counted = [&](const std::string& line, const std::string& stage, const std::string& date) {
    std::string text = replaced(line, serial_of(bad), serial_of(good));
    text = replaced(text, "\"verdict_from\":\"last\"", "\"verdict_from\":\"all\"");
    text = replaced(text, "\"recorded_at\":null", "\"recorded_at\":\"" + date + "\"");
    return replaced(text, "\"stage\":\"final\"", "\"stage\":\"" + stage + "\"") + "\n";
  };
  const std::string all = folder.path("all.jsonl");
  write_file(all, counted(own.back(), "final", "2026-03-04") + counted(own.front(), "raw", "2026-03-01") +
                      counted(own.front(), "final", "2026-03-06"));
  const ProgramRun run = sheet({serial_of(good), "--results", all});
  EXPECT_TRUE(has(run.out, "It failed: in another take of it: ")) << run.err;
  const ProgramRun bench = sheet({"--all", "--results", all, "--output", folder.path("sheets")});
  EXPECT_TRUE(has(unbroken(bench.out), "fails: in another take of it: ")) << bench.out;
}

TEST_F(Sheet, TellsTheMakerEachWarningOnce) {
  const std::string warned = folder.path("warned.jsonl");
  const std::string warning = R"("warnings":[{"code":"loud_background","message":"a fan is heard"}])";
  std::string text;
  for (const std::string& line : lines_of(read_file(results)))
    text += replaced(line, "\"warnings\":[]", warning) + "\n";
  write_file(warned, text);
  const ProgramRun one = sheet({serial_of(good), "--results", warned});
  EXPECT_TRUE(has(one.err, "warning: " + serial_of(good) + ": a fan is heard")) << one.err;
  const ProgramRun all = sheet({"--all", "--results", warned, "--output", folder.path("sheets")});
  EXPECT_EQ(lines_of(all.err).size(), 1U) << all.err;
  EXPECT_TRUE(has(all.err, " and 1 more: a fan is heard")) << all.err;
}

TEST_F(Sheet, TakesTheMakerFromAFileWhereTheResultHasNone) {
  const std::string plain = folder.path("plain.toml"), maker = folder.path("maker.toml");
  write_file(plain, "kind = \"whistle\"\nlowest = \"D5\"\n");
  write_file(maker, "kind = \"whistle\"\nlowest = \"D5\"\n[maker]\nname = \"Another Maker\"\nmodel = \"Model 7\"\n");
  const std::string saved = folder.path("r.json");
  ASSERT_EQ(run_windway({"measure", good, "--instrument", plain, "--head-out", "5", "--travel", "12", "--format",
                         "json", "--output", saved})
                .exit_status,
            0);
  const ProgramRun none = sheet({saved});
  EXPECT_EQ(none.exit_status, 0) << none.err;
  EXPECT_FALSE(has(none.out, "<address>"));
  EXPECT_TRUE(has(none.out, "It was not judged"));
  const ProgramRun named = sheet({saved, "--instrument", maker});
  EXPECT_TRUE(has(named.out, "Another Maker")) << named.err;
  EXPECT_TRUE(has(named.out, "Model 7"));
  const ProgramRun own = sheet({serial_of(good), "--results", results, "--instrument", maker});
  EXPECT_TRUE(has(own.out, "Hesper Wrackle"));
  EXPECT_TRUE(has(own.err, "name different makers")) << own.err;
  for (const Words& of : {Words{serial_of(good), "--results", results}, Words{saved}}) {
    Words words = of;
    words.insert(words.end(), {"--instrument", plain});
    const ProgramRun nameless = sheet(words);
    EXPECT_EQ(nameless.exit_status, 2);
    EXPECT_TRUE(has(nameless.err, "names no maker")) << nameless.err;
  }
}

TEST_F(Sheet, OfATakeIsJudgedByItsInstrumentFile) {
  const ProgramRun run = sheet({good, "--instrument", small_bench() + "/d-whistle.toml", "--head-out", "5"});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "It passed: "));
}

TEST_F(Sheet, IsJudgedAnewByTheLimitsOfTheCall) {
  const Words of_good{serial_of(good), "--results", results};
  const auto with = [&](Words words, const std::string& tolerance) {
    words.insert(words.end(), {"--tolerance", tolerance});
    return sheet(words);
  };
  EXPECT_TRUE(has(with(of_good, "24").out, "It passed: 15 notes within 24 cents"));
  const std::string narrow = with(of_good, "0.1").out;
  EXPECT_TRUE(has(narrow, serial_of(good))) << narrow;
  EXPECT_FALSE(has(narrow, "It passed")) << "no note is within 0.1 cents for certain";
  const ProgramRun all = with({"--all", "--results", results, "--output", folder.path("sheets")}, "0.1");
  EXPECT_EQ(all.exit_status, 3);
  EXPECT_TRUE(has(all.out, "0 sheets written")) << all.out;
  write_file(folder.path("one.json"), lines_of(read_file(results)).front() + "\n");
  EXPECT_TRUE(has(with({folder.path("one.json")}, "24").out, "15 notes within 24 cents"));
  const std::string saved = folder.path("r.json"), instrument = small_bench() + "/d-whistle.toml";
  ASSERT_EQ(run_windway(
                {"measure", good, "--instrument", instrument, "--head-out", "5", "--format", "json", "--output", saved})
                .exit_status,
            0);
  EXPECT_TRUE(has(with({saved}, "24").out, "notes within 24 cents"));
  EXPECT_TRUE(has(with({good, "--instrument", instrument, "--head-out", "5"}, "24").out, "notes within 24 cents"));
}

TEST_F(Sheet, OfOneLineAloneSaysSerialAndVerdict) {
  write_file(folder.path("one.json"), lines_of(read_file(results)).front() + "\n");
  const ProgramRun run = sheet({folder.path("one.json")});
  EXPECT_EQ(heading_of(run.out), serial_of(good));
  EXPECT_TRUE(has(run.out, "It passed: "));
}

TEST_F(Sheet, OfALineThatItsBenchDoesNotCountSaysSo) {
  const std::string line = lines_of(read_file(results)).front(), one = folder.path("one.json");
  write_file(one, replaced(line, "\"counts\":true", "\"counts\":false") + "\n");
  EXPECT_TRUE(has(sheet({one}).err, "does not count")) << sheet({one}).err;
  write_file(one, replaced(line, "\"keeper\":false", "\"keeper\":true") + "\n");
  EXPECT_TRUE(has(sheet({one}).err, "the bench's own flute")) << sheet({one}).err;
}

TEST_F(Sheet, UsesTheLastTakeThatCounts) {
  // The same serial and stage again, later in the list: the bad take counts now.
  std::string text = read_file(results);
  const std::string again = lines_of(text).back();
  const std::string own = "\"serial\":\"" + serial_of(bad) + "\"";
  std::string retake = again;
  retake.replace(retake.find(own), own.size(), "\"serial\":\"" + serial_of(good) + "\"");
  write_file(results, text + retake + "\n");
  EXPECT_TRUE(has(sheet({serial_of(good), "--results", results}).out, "It failed: "));
}

TEST_F(Sheet, RefusesWhatIsTooDoubtfulAndRemovesAnEarlierSheet) {
  const std::string place = folder.path("s.html");
  write_file(place, "earlier");
  const ProgramRun run = sheet({serial_of(good), "--results", results, "--stage", "raw", "--output", place});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_TRUE(has(run.err, "these results have no take of " + serial_of(good) + " at stage raw that counts"))
      << run.err;
  EXPECT_FALSE(fs::exists(place));
  const ProgramRun doubtful = sheet({good, "--kind", "recorder", "--lowest", "F5"});
  EXPECT_EQ(doubtful.exit_status, 3);
  EXPECT_EQ(doubtful.out, "");
}

TEST_F(Sheet, OfATakeThatCouldNotBeMeasuredSaysWhy) {
  const std::string silent = folder.path("HW-2000_final_1.wav"), again = folder.path("silent.jsonl");
  write_file(silent, "no sound");
  run_windway(batch_call({silent, "--serial-from", "{serial}_{stage}_{retake}", "--results", again}));
  const ProgramRun run = sheet({"HW-2000", "--results", again});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_TRUE(has(run.err, "no sheet of HW-2000: ")) << run.err;
  const ProgramRun all = sheet({"--all", "--results", again, "--output", folder.path("sheets")});
  EXPECT_EQ(all.exit_status, 3);
  EXPECT_TRUE(has(unbroken(all.out), "HW-2000 is left out: not measured: ")) << all.out;
}

TEST_F(Sheet, RefusesContradictions) {
  const std::string before = read_file(results);
  for (const Words& words :
       std::vector<Words>{{},
                          {serial_of(good)},
                          {serial_of(good), serial_of(bad), "--results", results},
                          {results},
                          {"--all", "--output", folder.path("s")},
                          {"--all", "--results", results},
                          {"--all", serial_of(good), "--results", results, "--output", folder.path("s")},
                          {serial_of(good), "--results", results, "--a4", "442"},
                          {good, "--stage", "final"},
                          {serial_of(good), "--results", results, "--output", results}}) {
    const ProgramRun run = sheet(words);
    EXPECT_EQ(run.exit_status, 2) << testing::PrintToString(words);
    EXPECT_EQ(run.out, "");
  }
  EXPECT_EQ(read_file(results), before);
  EXPECT_EQ(sheet({"HW-9999", "--results", results}).exit_status, 3);
  EXPECT_EQ(sheet({"--all", "--results", results, "--output", results + "/x"}).exit_status, 4);
}

TEST_F(Sheet, ReadsResultsFromStandardInput) {
  const ProgramRun run = sheet({serial_of(good), "--results", "-"}, results);
  EXPECT_EQ(heading_of(run.out), serial_of(good)) << run.err;
}

}  // namespace
}  // namespace windway::cli_tests
