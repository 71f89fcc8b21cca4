// SPDX-License-Identifier: GPL-3.0-or-later
// Verdicts and what a batch does whatever happens: exit statuses, order, takes that cannot be read.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

std::vector<Json> results_of(const Words& words) {
  Words call = batch_call(words);
  call.insert(call.end(), {"--format", "jsonl"});
  std::vector<Json> results;
  for (const std::string& line : lines_of(run_windway(call).out)) results.push_back(Json::parse(line));
  return results;
}

std::string verdict_on(const std::string& take, const Words& more = {}) {
  Words words{take};
  words.insert(words.end(), more.begin(), more.end());
  return results_of(words).at(0)["verdict"]["result"];
}

int status_of(const Words& words) { return run_windway(batch_call(words)).exit_status; }

/// What the note is off that is furthest off, cents.
double worst_cents(const Json& result) {
  double worst = 0;
  for (const Json& each : result["verdict"]["judged"])
    if (each["criterion"] == "note") worst = std::max(worst, std::abs(each["value_cents"].get<double>()));
  return worst;
}

TEST(BatchStatus, IsZeroWhereAllPass) {
  const ProgramRun run = run_windway(batch_call(good_takes()));
  EXPECT_EQ(run.exit_status, 0) << run.out;
  EXPECT_TRUE(run.out.starts_with("All 6 instruments pass.") || run.out.starts_with("6 of 6 instruments pass"))
      << run.out;
  EXPECT_EQ(run.err, "");
}

TEST(BatchStatus, IsOneWhereOneFails) {
  Words takes = good_takes();
  takes.push_back(take_with("one note off"));
  EXPECT_EQ(status_of(takes), 1);
}

TEST(BatchStatus, IsThreeWhereOneIsSilentUnreadableOrTooClose) {
  Words takes = good_takes();
  takes.push_back(take_with("one note off"));
  for (const std::string& bad : {take_with("silent take"), take_with("wrong key"), std::string("missing.wav")}) {
    Words with_bad = takes;
    with_bad.push_back(bad);
    EXPECT_EQ(status_of(with_bad), 3) << bad;
    EXPECT_EQ(verdict_on(bad), "not_measured") << bad;
  }
  const std::string good = take_with("");
  const std::string as_far_off = std::to_string(worst_cents(results_of({good}).at(0)));
  EXPECT_EQ(verdict_on(good, {"--tolerance", as_far_off}), "too_close");
  EXPECT_EQ(status_of({good, "--tolerance", as_far_off}), 3);
}

TEST(BatchStatus, FailsEachPlantedFaultForItsOwnReason) {
  const auto failed = [](const std::string& fault) {
    std::set<std::string> criteria;
    const Json result = results_of({take_with(fault), "--manifest", small_bench() + "/manifest.csv"}).at(0);
    for (const Json& each : result["verdict"]["judged"])
      if (each["result"] == "fail") criteria.insert(each["criterion"]);
    return criteria;
  };
  EXPECT_EQ(failed("one note off"), std::set<std::string>{"note"});
  EXPECT_TRUE(failed("spread too large").contains("spread"));
  EXPECT_TRUE(failed("body too long").contains("head_place"));
  EXPECT_TRUE(failed("octave wide").contains("note"));
}

TEST(BatchStatus, IsZeroWhereNothingWasAskedAndAllWasMeasured) {
  const ProgramRun run = run_windway({"batch", "--kind", "whistle", "--lowest", "D5", take_with("one note off")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
}

TEST(BatchStatus, IsNeverZeroWithoutAnInstrument) {
  const ScratchFolder folder;
  write_file(folder.path("readme.txt"), "no take");
  EXPECT_EQ(status_of({folder.path()}), 3);
  EXPECT_EQ(status_of({"-"}), 3);  // an empty list
  EXPECT_EQ(status_of({}), 2);
  write_file(folder.path("manifest.csv"), "take,serial\n");
  EXPECT_EQ(status_of({"--manifest", folder.path("manifest.csv")}), 2);  // a table without takes is a mistake
  write_file(folder.path("empty.jsonl"), "");
  EXPECT_EQ(run_windway({"summary", folder.path("empty.jsonl")}).exit_status, 3);
}

TEST(BatchTakes, GiveTheSameBytesOnAnyNumberOfThreads) {
  for (const std::string format : {"text", "csv", "jsonl", "junit"}) {
    const ProgramRun one = run_windway(whole_bench_call({"--format", format, "--jobs", "1"}));
    for (const std::string jobs : {"2", "4"})
      EXPECT_EQ(run_windway(whole_bench_call({"--format", format, "--jobs", jobs})).out, one.out) << format << jobs;
  }
}

TEST(BatchTakes, ThatCannotBeReadNeverStopTheRest) {
  const ScratchFolder folder;
  const auto copied = [&](const std::string& take, const std::string& name) {
    std::filesystem::copy_file(take, folder.path(name));
    return folder.path(name);
  };
  copied(take_with(""), "a.flac");
  write_file(folder.path("b.wav"), "RIFF is how it begins, and then nothing is as it should be");
  write_file(folder.path("c.m4a"), std::string("\0\0\0\x18"
                                               "ftypM4A \0\0\0\0M4A mp42",
                                               24));
  const std::string whole = read_file(take_with("", 1));
  write_file(folder.path("d.flac"), whole.substr(0, whole.size() / 8));
  copied(take_with("", 2), "e.flac");
  const auto results = results_of({folder.path(), folder.path("missing.wav")});
  ASSERT_EQ(results.size(), 6U);
  for (const std::size_t good : {0U, 4U}) EXPECT_EQ(results[good]["verdict"]["result"], "pass") << good;
  for (const std::size_t bad : {1U, 2U, 3U, 5U}) {
    EXPECT_EQ(results[bad]["verdict"]["result"], "not_measured") << bad;
    EXPECT_FALSE(results[bad]["verdict"]["judged"][0]["message"].get<std::string>().empty()) << bad;
  }
  EXPECT_TRUE(has(results[2]["error"], "convert") || has(results[2]["error"], "ffmpeg")) << results[2]["error"];
  EXPECT_TRUE(has(results[5]["error"], "no such file")) << results[5]["error"];
  EXPECT_EQ(status_of({folder.path(), folder.path("missing.wav")}), 3);
}

TEST(BatchTakes, AreFoundInFoldersWithinFoldersAndTakenOnce) {
  const ScratchFolder folder;
  std::filesystem::create_directories(folder.path("lot/day"));
  std::filesystem::create_directories(folder.path(".hidden"));
  for (const char* name : {"z.flac", "lot/day/a.FLAC", ".hidden/h.flac"})
    std::filesystem::copy_file(take_with(""), folder.path(name));
  write_file(folder.path("notes.txt"), "no take");
  const auto results = results_of({folder.path("z.flac"), folder.path()});
  ASSERT_EQ(results.size(), 2U);
  EXPECT_EQ(results[0]["takes"][0]["path"], folder.path("z.flac"));
  EXPECT_EQ(results[1]["takes"][0]["path"], folder.path("lot/day/a.FLAC"));
  const ProgramRun run = run_windway(batch_call({folder.path()}));
  EXPECT_TRUE(has(run.err, "notes.txt")) << run.err;
}

TEST(BatchTakes, AreListedOnStandardInput) {
  const ScratchFolder folder;
  const Words takes = good_takes();
  write_file(folder.path("list"), takes[3] + "\r\n\n" + takes[1] + "\n");
  Words call = batch_call({"-", takes[0], "--format", "jsonl"});
  const ProgramRun run = run_windway(call, {.in_path = folder.path("list")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  const auto lines = lines_of(run.out);
  ASSERT_EQ(lines.size(), 3U);
  for (const auto& [line, take] : {std::pair{0U, 3U}, {1U, 1U}, {2U, 0U}})
    EXPECT_EQ(Json::parse(lines[line])["takes"][0]["path"], takes[take]);
}

TEST(BatchOutput, HasTheResultAloneOnStandardOutputAndNoProgressInAPipe) {
  const ProgramRun run = run_windway(batch_call({take_with(""), take_with("", 1), "--format", "jsonl"}));
  EXPECT_EQ(run.err, "");
  for (const std::string& line : lines_of(run.out)) EXPECT_TRUE(Json::accept(line));
}

TEST(BatchOutput, ThatCannotBeWrittenIsStatusFourBeforeTheWork) {
  const ScratchFolder folder;
  for (const std::string option : {"--output", "--results"}) {
    const ProgramRun run = run_windway(batch_call({take_with(""), option, folder.path("none/here")}));
    EXPECT_EQ(run.exit_status, 4) << option;
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(has(run.err, folder.path("none/here"))) << run.err;
  }
  EXPECT_EQ(status_of({take_with(""), "--output", "/dev/full"}), 4);
  EXPECT_EQ(run_windway(batch_call({take_with("")}), {.out_path = "/dev/full"}).exit_status, 4);
  EXPECT_EQ(status_of({take_with(""), "--results", "/dev/full"}), 4);
  EXPECT_TRUE(folder.contents().empty());
}

TEST(BatchOutput, WhoseReaderHasGoneEndsQuietly) {
  const ProgramRun run = run_windway(batch_call(good_takes()), {.out_reader_has_gone = true});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_EQ(run.err, "");
}

}  // namespace
}  // namespace windway::cli_tests
