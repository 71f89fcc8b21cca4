// SPDX-License-Identifier: GPL-3.0-or-later
// What --resume takes over from a results file, and what it does anew.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

void copy_take(const std::string& take, const std::string& place) {
  fs::copy_file(take, place, fs::copy_options::overwrite_existing);
}

/// Three good takes, named by serial and retake, and their results, each line marked so that one shows which were done
/// anew: a mark stands where nothing but a new measurement would wipe it off.
struct Results : testing::Test {
  Results() {
    fs::create_directory(folder.path("takes"));
    for (int number = 1; number <= 3; ++number)
      copy_take(take_with("", static_cast<std::size_t>(number)), take(number));
    EXPECT_EQ(go_on().exit_status, 0);
    mark();
  }

  std::string take(int number) const { return folder.path("takes/HW-" + std::to_string(number) + "_1.flac"); }

  Words call(const Words& more = {}) const {
    Words words =
        batch_call({folder.path("takes"), "--serial-from", "{serial}_{retake}", "--results", results, "--resume"});
    words.insert(words.end(), more.begin(), more.end());
    return words;
  }
  ProgramRun go_on(const Words& more = {}) const { return run_windway(call(more)); }

  void mark() const {
    std::string text;
    for (const std::string& line : lines_of(read_file(results))) text += R"({"mark":true,)" + line.substr(1) + "\n";
    write_file(results, text);
  }

  std::vector<Json> lines() const {
    std::vector<Json> all;
    for (const std::string& line : sorted_lines(read_file(results))) all.push_back(Json::parse(line));
    std::ranges::sort(all, {}, [](const Json& line) { return line["takes"][0]["path"].get<std::string>(); });
    return all;
  }

  /// The serials of the lines that were kept.
  Words kept() const {
    Words serials;
    for (const Json& line : lines())
      if (line.contains("mark")) serials.push_back(line["subject"]["serial"]);
    return serials;
  }

  ScratchFolder folder;
  std::string results = folder.path("r.jsonl");
};

TEST_F(Results, AreAllKeptWhereNothingHasChanged) {
  const std::string before = read_file(results);
  const auto written = fs::last_write_time(results);
  EXPECT_EQ(go_on().exit_status, 0);
  EXPECT_EQ(read_file(results), before);
  EXPECT_EQ(fs::last_write_time(results), written);
}

TEST_F(Results, OfATakeThatHasChangedAreDoneAnew) {
  copy_take(take_with("one note off"), take(2));
  EXPECT_EQ(go_on().exit_status, 1);
  EXPECT_EQ(kept(), (Words{"HW-1", "HW-3"}));
  ASSERT_EQ(lines().size(), 3U);
  EXPECT_EQ(lines()[1]["verdict"]["result"], "fail");
}

TEST_F(Results, ByAnotherToleranceAreDoneAnew) {
  EXPECT_EQ(go_on({"--tolerance", "30"}).exit_status, 0);
  EXPECT_EQ(kept(), Words{});
  EXPECT_EQ(lines().size(), 3U);
}

TEST_F(Results, ByAnotherTemperatureOfOneTakeAreDoneAnewForThatOne) {
  const std::string manifest = folder.path("m.csv");
  const auto go_on_with = [&](const std::string& celsius) {
    write_file(manifest,
               "take,serial,bore_temp_c\ntakes/HW-1_1.flac,HW-1,24\ntakes/HW-2_1.flac,HW-2," + celsius + "\n");
    run_windway(batch_call({"--manifest", manifest, "--results", results, "--resume"}));
  };
  go_on_with("24");
  mark();
  go_on_with("23");
  EXPECT_EQ(kept(), (Words{"HW-1", "HW-3"}));
}

TEST_F(Results, OfOtherTakesStay) {
  copy_take(take_with("", 4), folder.path("HW-4_1.flac"));
  const ProgramRun run = run_windway(
      batch_call({folder.path("HW-4_1.flac"), "--serial-from", "{serial}_{retake}", "--results", results, "--resume"}));
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(kept(), (Words{"HW-1", "HW-2", "HW-3"}));
  EXPECT_EQ(lines().size(), 4U);
}

TEST_F(Results, OfATakeThatIsGoneLeave) {
  fs::remove(take(1));
  const ProgramRun run = go_on();
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(kept(), (Words{"HW-2", "HW-3"}));
  EXPECT_TRUE(has(run.err, "1 take is no longer there; its result is removed from")) << run.err;
}

TEST_F(Results, OfTakesThatWereMovedGoAndTheTakesAreDoneAnewWhereTheyAre) {
  fs::rename(folder.path("takes"), folder.path("moved"));
  fs::remove(folder.path("moved/HW-3_1.flac"));
  EXPECT_EQ(run_windway(batch_call({folder.path("moved"), "--serial-from", "{serial}_{retake}", "--results", results,
                                    "--resume"}))
                .exit_status,
            0);
  EXPECT_EQ(kept(), Words{"HW-3"});
  ASSERT_EQ(lines().size(), 3U);
  EXPECT_EQ(lines()[0]["takes"][0]["path"], folder.path("moved/HW-1_1.flac"));
  EXPECT_EQ(lines()[0]["batch"]["takes_of_subject"], 1);
}

TEST_F(Results, OfATakeStayWhereACopyOfItIsMeasuredToo) {
  fs::copy_file(take(1), folder.path("HW-9_1.flac"));
  EXPECT_EQ(run_windway(batch_call({folder.path("HW-9_1.flac"), "--serial-from", "{serial}_{retake}", "--results",
                                    results, "--resume"}))
                .exit_status,
            0);
  EXPECT_EQ(kept(), (Words{"HW-1", "HW-2", "HW-3"}));
  EXPECT_EQ(lines().size(), 4U);
}

TEST_F(Results, CountByTheLastRetakeOfAll) {
  copy_take(take_with("one note off"), folder.path("takes/HW-2_2.flac"));
  EXPECT_EQ(go_on().exit_status, 1);
  EXPECT_EQ(kept(), (Words{"HW-1", "HW-2", "HW-3"}));
  ASSERT_EQ(lines().size(), 4U);
  EXPECT_EQ(lines()[1]["batch"]["counts"], false);
  EXPECT_EQ(lines()[1]["batch"]["takes_of_subject"], 2);
  EXPECT_EQ(lines()[2]["batch"]["counts"], true);
  EXPECT_EQ(lines()[2]["batch"]["takes_of_subject"], 2);
}

TEST_F(Results, AreTheSameWhetherTheRetakeCameLaterOrNot) {
  fs::remove(results);
  go_on();
  copy_take(take_with("", 4), folder.path("takes/HW-2_2.flac"));
  const ProgramRun later = go_on();
  const auto stepwise = sorted_lines(read_file(results));
  fs::remove(results);
  const ProgramRun at_once = go_on();
  EXPECT_EQ(stepwise, sorted_lines(read_file(results)));
  EXPECT_EQ(later.out, at_once.out);
}

TEST_F(Results, OfATakeThatWasMissingAreDoneOnceItIsThere) {
  const Words call = batch_call({folder.path("later.flac"), "--results", folder.path("l.jsonl"), "--resume"});
  EXPECT_EQ(run_windway(call).exit_status, 3);
  EXPECT_EQ(run_windway(call).exit_status, 3);
  EXPECT_EQ(lines_of(read_file(folder.path("l.jsonl"))).size(), 1U);
  copy_take(take_with(""), folder.path("later.flac"));
  EXPECT_EQ(run_windway(call).exit_status, 0);
  EXPECT_EQ(lines_of(read_file(folder.path("l.jsonl"))).size(), 1U);
}

TEST_F(Results, BehindALinkStayBehindIt) {
  const std::string place = folder.path("place.jsonl");
  fs::rename(results, place);
  fs::create_symlink("place.jsonl", results);
  EXPECT_EQ(go_on({"--tolerance", "30"}).exit_status, 0);
  EXPECT_TRUE(fs::is_symlink(results));
  EXPECT_EQ(lines_of(read_file(place)).size(), 3U);
  EXPECT_EQ(read_file(place).find("\"mark\""), std::string::npos);
}

TEST_F(Results, KeepTheirRightsWhenTheyArePutInOrder) {
  fs::permissions(results, fs::perms{0600});
  EXPECT_EQ(go_on({"--tolerance", "30"}).exit_status, 0);
  EXPECT_EQ(fs::status(results).permissions(), fs::perms{0600});
  EXPECT_EQ(folder.contents(), (Words{"r.jsonl", "takes"}));
}

}  // namespace
}  // namespace windway::cli_tests
