// SPDX-License-Identifier: GPL-3.0-or-later
// The statistics and the histories from saved results.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

/// The whole bench's results.
struct Summary : testing::Test {
  Summary() { batch = run_windway(whole_bench_call({"--results", results, "--jobs", "1"})); }

  ProgramRun summary(const Words& words, const std::string& in_path = "/dev/null") const {
    Words call{"summary"};
    call.insert(call.end(), words.begin(), words.end());
    return run_windway(call, {.in_path = in_path});
  }

  ScratchFolder folder;
  std::string results = folder.path("r.jsonl");
  ProgramRun batch;
};

TEST_F(Summary, IsByteForByteWhatTheBatchSaid) {
  for (const std::string format : {"text", "csv", "jsonl", "junit"}) {
    Words form{"--format", format};
    if (format != "jsonl")
      form.insert(form.end(), {"--group-by", "head"});  // lines remember what their batch was asked
    const ProgramRun direct = run_windway(whole_bench_call(form));
    form.insert(form.begin(), results);
    const ProgramRun saved = summary(form);
    EXPECT_EQ(saved.out, direct.out) << format;
    EXPECT_EQ(saved.exit_status, direct.exit_status) << format;
    EXPECT_EQ(saved.err, "");
  }
  EXPECT_EQ(summary({results}).out, batch.out);
  EXPECT_EQ(batch.exit_status, 3);
}

TEST_F(Summary, ReadsStandardInput) { EXPECT_EQ(summary({"-"}, results).out, batch.out); }

/// The same numbers to a millionth, whatever the order they were summed in.
void expect_alike(const Json& one, const Json& other, const std::string& where = "") {
  ASSERT_EQ(one.type() == Json::value_t::null, other.type() == Json::value_t::null) << where;
  if (one.is_number()) {
    EXPECT_NEAR(one.get<double>(), other.get<double>(), 1e-6 + 1e-6 * std::abs(one.get<double>())) << where;
  } else if (one.is_structured()) {
    ASSERT_EQ(one.size(), other.size()) << where;
    for (const auto& [key, value] : one.items())
      expect_alike(value, one.is_array() ? other[std::stoul(key)] : other[key],
                   std::string(where).append("/").append(key));
  } else {
    EXPECT_EQ(one, other) << where;
  }
}

TEST_F(Summary, OfShardsIsThatOfTheWholeInAnyOrder) {
  Words shards;
  const auto lines = lines_of(read_file(results));
  for (std::size_t shard = 0; shard < 3; ++shard) {
    std::string text;
    for (std::size_t line = shard; line < lines.size(); line += 3) text += lines[line] + "\n";
    shards.push_back(folder.path("shard-" + std::to_string(shard)));
    write_file(shards.back(), text);
  }
  const Json whole = Json::parse(summary({results, "--format", "json"}).out);
  EXPECT_EQ(whole["schema"], "windway.summary.v1");
  do {
    Words call = shards;
    call.insert(call.end(), {"--format", "json"});
    const ProgramRun run = summary(call);
    EXPECT_EQ(run.exit_status, 3);
    expect_alike(whole, Json::parse(run.out));
  } while (std::ranges::next_permutation(shards).found);
}

TEST_F(Summary, TellsLinesThatAreNoResultsAndLeavesThemOut) {
  const auto good = [&] {
    std::string text;
    for (const std::string& line : lines_of(read_file(results)))
      if (Json::parse(line)["verdict"]["result"] == "pass") text += line + "\n";
    return text;
  }();
  const std::string path = folder.path("good.jsonl");
  write_file(path, good);
  const ProgramRun whole = summary({path});
  EXPECT_EQ(whole.exit_status, 0);
  const auto told = [&](const std::string& text, const std::string& line, const std::string& said) {
    write_file(path, text);
    const ProgramRun run = summary({path});
    EXPECT_EQ(run.exit_status, 3);
    EXPECT_EQ(run.out, whole.out);
    EXPECT_TRUE(has(run.err, "warning: " + path + ", line " + line + ": ")) << run.err;
    EXPECT_TRUE(has(run.err, said)) << run.err;
  };
  told("no JSON\n" + good, "1", "is not a result of windway batch");
  told("\n" + good, "1", "is not a result of windway batch");
  told("{\"schema\":\"another\"}\n" + good, "1", "is not a result of windway batch");
  told(good + good.substr(0, 7000), "7", "is cut off");
  told(good + good.substr(0, good.find('\n')), "7", "is cut off");
  std::string many;
  for (int line = 0; line < 9; ++line) many += "no JSON\n";
  told(many + good, "5", "and 4 more such lines");
}

TEST_F(Summary, RefusesMistakesAndSaysWhatCannotBeReadOrWritten) {
  const auto said = [&](const Words& words, int status, const std::string& what) {
    const ProgramRun run = summary(words);
    EXPECT_EQ(run.exit_status, status) << run.err;
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(has(run.err, what)) << run.err;
  };
  said({}, 2, "which results?");
  said({results, results}, 2, "given twice");
  said({results, "--output", results}, 2, "would overwrite " + results);
  said({results, "--group-by", "colour"}, 2, "none of");
  said({folder.path("none.jsonl")}, 3, "cannot read " + folder.path("none.jsonl"));
  said({folder.path()}, 3, "cannot read " + folder.path());
  said({results, "--output", folder.path("none/r")}, 4, "cannot write");
  EXPECT_EQ(summary({results, "--output", "/dev/full"}).exit_status, 4);
}

TEST_F(Summary, OfManyTakesOfOneInstrumentSaysHowItRepeats) {
  std::filesystem::create_directory(folder.path("takes"));
  for (int number = 1; number <= 4; ++number)
    std::filesystem::copy_file(
        take_with("", static_cast<std::size_t>(number % 2)),
        folder.path("takes/HW-" + std::to_string(number % 2) + "_" + std::to_string(number) + ".flac"));
  const Words call = batch_call({folder.path("takes"), "--serial-from", "{serial}_{retake}", "--keeper", "HW-1"});
  const ProgramRun run = run_windway(call);
  EXPECT_EQ(run.exit_status, 0) << run.out;
  EXPECT_TRUE(has(run.out, "HW-1")) << run.out;  // the keeper is told apart
}

TEST_F(Summary, KnowsTheKeeperAndTheGroupsOfTheBatch) {
  const std::string own = folder.path("own.jsonl");
  const Words asked{"--keeper", "HW-1001", "--group-by", "lot"};
  Words call = whole_bench_call({"--results", own});
  call.insert(call.end(), asked.begin(), asked.end());
  const ProgramRun direct = run_windway(call);
  EXPECT_TRUE(has(unbroken(direct.out), "the keeper HW-1001, 1 take,")) << direct.out;
  EXPECT_TRUE(has(direct.out, "All are of one lot")) << direct.out;
  EXPECT_EQ(summary({own}).out, direct.out);
  const ProgramRun other = summary({own, "--keeper", "HW-1003"});  // the call outranks what the results remember
  EXPECT_TRUE(has(unbroken(other.out), "the keeper HW-1003, 1 take,")) << other.out;
  EXPECT_FALSE(has(unbroken(other.out), "the keeper HW-1001")) << other.out;
  const ProgramRun both = summary({results, own});  // of one recording told twice the later result counts
  EXPECT_TRUE(has(unbroken(both.out), "the keeper HW-1001, 1 take,")) << both.out;
}

TEST_F(Summary, ToldTheSameResultsTwiceCountsThemOnce) {
  const ProgramRun once = summary({results});
  const std::string again = folder.path("again.jsonl");
  write_file(again, read_file(results));
  const ProgramRun twice = summary({results, again});
  EXPECT_EQ(lines_of(twice.out).front(), lines_of(once.out).front());
  EXPECT_TRUE(has(twice.out, "12 results were left out, as the same recording")) << twice.out;
  EXPECT_EQ(Json::parse(summary({results, again, "--format", "json"}).out)["duplicates"], 12);
}

TEST_F(Summary, GivesAllStatisticsAsATable) {
  const auto lines = lines_of(summary({results, "--format", "csv-statistics", "--group-by", "lot"}).out);
  ASSERT_EQ(lines.size(), 1U + 1U + 15U + 1U);  // columns, verdicts, notes, one lot, which has no rest
  EXPECT_TRUE(lines[0].starts_with("of,name,day,note,midi,register,pass,fail,")) << lines[0];
  EXPECT_TRUE(lines[1].starts_with("bench,,,,,,6,4,0,2,0,")) << lines[1];
  const auto commas = [](const std::string& line, char separator) { return std::ranges::count(line, separator); };
  for (const std::string& line : lines) EXPECT_EQ(commas(line, ','), commas(lines[0], ',')) << line;
  const auto german =
      lines_of(summary({results, "--format", "csv-statistics", "--group-by", "lot", "--decimal-comma"}).out);
  ASSERT_EQ(german.size(), lines.size());
  for (std::size_t line = 0; line < lines.size(); ++line) {
    std::string turned = lines[line];
    std::ranges::replace(turned, ',', ';');
    std::ranges::replace(turned, '.', ',');
    EXPECT_EQ(german[line], turned);
  }
}

TEST_F(Summary, WritesADecimalCommaInTheTablesAlone) {
  const ProgramRun direct = run_windway(whole_bench_call({"--format", "csv", "--decimal-comma"}));
  EXPECT_TRUE(direct.out.starts_with("take;serial;")) << direct.out.substr(0, 80);
  EXPECT_EQ(summary({results, "--format", "csv", "--decimal-comma"}).out, direct.out);
  const ProgramRun refused = summary({results, "--decimal-comma"});
  EXPECT_EQ(refused.exit_status, 2);
  EXPECT_TRUE(has(refused.err, "--decimal-comma is for --format csv")) << refused.err;
}

struct HistoryCommand : testing::Test {
  HistoryCommand() {
    const std::string manifest = folder.path("m.csv");
    write_file(manifest, "take,serial,stage,head_out_mm,recorded_at\n" + take_with("one note off") +
                             ",HW-7,raw,4.8,2026-03-01\n" + take_with("") + ",HW-7,final,5.9,2026-03-05\n" +
                             take_with("", 1) + ",HW-8,final,5.7,2026-03-05\n");
    for (const std::string half : {"a", "b"})
      run_windway(batch_call({"--manifest", manifest, "--results", folder.path(half)}));
  }
  ScratchFolder folder;
};

TEST_F(HistoryCommand, TellsWhatEachStageHasChanged) {
  const ProgramRun run = run_windway({"history", "HW-7", "--results", folder.path("a")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(run.err, "");
  EXPECT_LT(run.out.find("raw"), run.out.find("final"));
  EXPECT_FALSE(has(run.out, "HW-8"));
  const Json json =
      Json::parse(run_windway({"history", "HW-7", "--results", folder.path("a"), "--format", "json"}).out);
  ASSERT_EQ(json["takes"].size(), 2U) << json.dump(1);
  EXPECT_EQ(json["takes"][0]["stage"], "raw");
  EXPECT_EQ(json["takes"][1]["stage"], "final");
  EXPECT_EQ(json["steps"].size(), 1U);
}

TEST_F(HistoryCommand, SaysWhatItCannotTell) {
  const auto said = [&](Words words, int status, const std::string& what) {
    words.insert(words.begin(), "history");
    const ProgramRun run = run_windway(words);
    EXPECT_EQ(run.exit_status, status) << run.err;
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(has(run.err, what)) << run.err;
  };
  said({}, 2, "which instrument?");
  said({"HW-7"}, 2, "say where its results are");
  said({"HW-9", "--results", folder.path("a")}, 3, "no take of HW-9");
  said({"HW-7", "--results", folder.path("none")}, 3, "cannot read");
  said({"HW-7", "--results", folder.path("a"), "--output", folder.path("none/h")}, 4, "cannot write");
}

}  // namespace
}  // namespace windway::cli_tests
