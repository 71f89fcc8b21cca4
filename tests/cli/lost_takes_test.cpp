// SPDX-License-Identifier: GPL-3.0-or-later
// Takes that the manifest names and that are not there, and the other way round; --check-manifest; takes that left.
#include <gtest/gtest.h>

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

/// A folder bench/ with two good takes and a manifest of three.
struct LostTake : testing::Test {
  LostTake() {
    fs::create_directory(bench);
    fs::copy_file(take_with(""), bench + "/a.flac");
    fs::copy_file(take_with("", 1), bench + "/b.flac");
    write_file(manifest, "take,serial\na.flac,HW-1\nb.flac,HW-2\nc.flac,HW-3\n");
  }
  Words words(const Words& more = {}) const {
    Words all{"--manifest", manifest};
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
  ProgramRun run(const Words& more = {}, const std::string& list = "/dev/null") const {
    return run_windway(batch_call(words(more)), {.in_path = list});
  }

  ScratchFolder folder;
  std::string bench = folder.path("bench"), manifest = bench + "/manifest.csv", results = folder.path("r.jsonl");
  std::string said = "the manifest " + manifest + ", line 4, names it, but there is no such file";
};

TEST_F(LostTake, IsNotMeasuredInEveryModeAndFormat) {
  const std::string list = folder.path("list");
  write_file(list, bench + "/a.flac\n" + bench + "/b.flac\n");
  for (const Words& mode :
       {Words{}, {bench}, {"-"}, {bench + "/a.flac", bench + "/b.flac"}, {bench + "/b.flac", bench + "/c.flac"}}) {
    const ProgramRun text = run(mode, list);
    EXPECT_EQ(text.exit_status, 3) << text.out;
    EXPECT_TRUE(has(unbroken(text.out), "HW-3: not measured")) << text.out;
    EXPECT_TRUE(has(text.out, "line 4")) << text.out;
  }
  const ProgramRun junit = run({"--format", "junit", "--results", results});
  EXPECT_EQ(junit.exit_status, 3);
  EXPECT_TRUE(has(junit.out, said)) << junit.out;
  EXPECT_TRUE(has(junit.out, "errors=\"1\"")) << junit.out;
  const auto lines = lines_of(read_file(results));
  ASSERT_EQ(lines.size(), 3U);
  std::string error;
  for (const std::string& line : lines) {
    const Json result = Json::parse(line);
    if (result["subject"]["serial"] == "HW-3") error = result["error"];
  }
  EXPECT_EQ(error, said);
  EXPECT_EQ(run_windway({"summary", results}).exit_status, 3);
}

TEST_F(LostTake, IsNotMadeUpForByALaterTakeOfTheInstrument) {
  write_file(manifest, "take,serial,retake\ngone.flac,HW-1,1\na.flac,HW-1,2\nb.flac,HW-2,1\n");
  EXPECT_EQ(run({"--results", results}).exit_status, 3);
  EXPECT_EQ(run_windway({"summary", results}).exit_status, 3);
}

TEST_F(LostTake, IsDoneOnceItTurnsUpAndLostAgainOnceItLeaves) {
  const Words resumed{"--results", results, "--resume"};
  EXPECT_EQ(run(resumed).exit_status, 3);
  fs::copy_file(take_with("", 2), bench + "/c.flac");
  EXPECT_EQ(run(resumed).exit_status, 0);
  EXPECT_EQ(lines_of(read_file(results)).size(), 3U);
  EXPECT_EQ(run_windway({"summary", results}).exit_status, 0);
  fs::remove(bench + "/c.flac");
  EXPECT_EQ(run(resumed).exit_status, 3);
  EXPECT_EQ(lines_of(read_file(results)).size(), 3U);
}

TEST_F(LostTake, IsNoneWhereTheFileIsThereAndNotAskedFor) {
  fs::copy_file(take_with("", 2), bench + "/c.flac");
  const ProgramRun part = run({bench + "/a.flac"});
  EXPECT_EQ(part.exit_status, 0) << part.out;
  EXPECT_EQ(part.err, "windway: note: 2 takes of " + manifest + " are not in the paths given: b.flac, c.flac\n");
}

TEST_F(LostTake, IsDealtToOneOfTheShardsToo) {
  std::vector<int> statuses;
  for (const std::string shard : {"1/3", "2/3", "3/3"}) statuses.push_back(run({"--shard", shard}).exit_status);
  EXPECT_EQ(statuses, (std::vector<int>{0, 0, 3}));
}

TEST_F(LostTake, TheOtherWayRoundIsToldInANoteOrNotMeasured) {
  write_file(manifest, "take,serial\na.flac,HW-1\n");
  const ProgramRun alone = run();
  EXPECT_EQ(alone.exit_status, 0);
  EXPECT_EQ(alone.err, "windway: note: 1 sound file in the same folders has no row in " + manifest + ": b.flac\n");
  EXPECT_EQ(run({bench}).exit_status, 3);
  for (const char* name : {"c", "d", "e", "f", "g", "h"}) write_file(bench + "/" + name + ".flac", "");
  EXPECT_EQ(run().err, "windway: note: 7 sound files in the same folders have no row in " + manifest +
                           ": b.flac, c.flac, d.flac, e.flac, f.flac, and 2 more\n");
}

TEST_F(LostTake, OfAFolderWithATakeOfNoSoundFilesNameIsNone) {
  fs::rename(bench + "/b.flac", bench + "/b.take");
  write_file(manifest, "take,serial\na.flac,HW-1\nb.take,HW-2\n");
  for (const Words& mode : {Words{}, {bench}}) {
    const ProgramRun done = run(mode);
    EXPECT_EQ(done.exit_status, 0) << done.out;
    EXPECT_TRUE(done.out.starts_with("2 of 2 instruments pass")) << done.out;
    EXPECT_EQ(done.err, "");
  }
}

TEST_F(LostTake, ColumnsThatGoThroughAreSaidOnceAndMisspeltOnesRefused) {
  write_file(manifest, "take,serial,bridle,wood\na.flac,HW-1,yes,pear\nb.flac,HW-2,no,\n");
  EXPECT_EQ(run().err, "windway: note: the columns bridle and wood are copied into the results\n");
  write_file(manifest, "take,serial,bore_temp\na.flac,HW-1,20\nb.flac,HW-2,21\n");
  const ProgramRun refused = run();
  EXPECT_EQ(refused.exit_status, 2);
  EXPECT_EQ(refused.err,
            "windway: " + manifest +
                ", line 1, column 3: bore_temp is unknown; did you mean bore_temp_c? Otherwise give your column "
                "a less similar name\n");
}

TEST_F(LostTake, GroupsThatNoTakeSaysAreRefusedBeforeAnythingIsMeasured) {
  write_file(manifest, "take,serial,stage,lot\na.flac,HW-1,raw,L7\nb.flac,HW-2,final,\n");
  EXPECT_EQ(run({"--group-by", "lot"}).exit_status, 0);
  const ProgramRun material = run({"--group-by", "material", "--results", results});
  EXPECT_EQ(material.exit_status, 2);
  EXPECT_EQ(
      material.err,
      "windway: --group-by material: no take gives its material; the manifest has the columns take, serial, stage "
      "and lot\n");
  EXPECT_FALSE(fs::exists(results));
  const ProgramRun stage = run({"--group-by", "lot", "--stage", "final"});
  EXPECT_EQ(stage.exit_status, 2);
  EXPECT_TRUE(has(stage.err, "no take of the stage final gives its lot")) << stage.err;
  EXPECT_EQ(run({"--group-by", "lot", "--keeper", "HW-1"}).exit_status, 2);
  EXPECT_EQ(run({"--results", results}).exit_status, 0);
  const ProgramRun summary = run_windway({"summary", results, "--group-by", "material"});
  EXPECT_EQ(summary.exit_status, 2);
  EXPECT_EQ(summary.out, "");
  EXPECT_EQ(summary.err, "windway: --group-by material: no take in these results gives its material\n");
  EXPECT_EQ(run_windway({"summary", results, "--group-by", "lot"}).exit_status, 0);
}

TEST_F(LostTake, IsListedByACheckOfTheManifest) {
  write_file(bench + "/d.flac", "");
  const ProgramRun check = run({"--check-manifest", "--results", results, "--output", folder.path("out")});
  EXPECT_EQ(check.exit_status, 3);
  EXPECT_EQ(unbroken(check.out), manifest +
                                     ": 3 takes of 3 instruments.\n\nThere is no file for 1 row: line 4: c.flac\n\n"
                                     "There is no row for 1 sound file: d.flac\n");
  EXPECT_EQ(check.err, "");
  EXPECT_EQ(folder.contents(), Words{"bench"});
}

TEST_F(LostTake, IsNoneToACheckWhereAllIsThere) {
  write_file(manifest, "take,serial\na.flac,HW-1\nb.flac,HW-1\n");
  for (const Words& mode : {Words{}, {bench}, {"--serial-from", "{serial}_{stage}"}}) {
    Words call = mode;
    call.push_back("--check-manifest");
    const ProgramRun check = run(call);
    EXPECT_EQ(check.exit_status, 0) << check.out;
    EXPECT_EQ(unbroken(check.out), manifest + ": 2 takes of 1 instrument; nothing is missing.\n");
  }
  write_file(manifest, "take,serial,wood\na.flac,HW-1,pear\nb.flac,HW-1,\n");
  EXPECT_EQ(run({"--check-manifest"}).exit_status, 0);
  write_file(manifest, "take,serail\na.flac,HW-1\n");
  EXPECT_EQ(run({"--check-manifest"}).exit_status, 2);
  EXPECT_EQ(run_windway({"batch", bench, "--check-manifest"}).exit_status, 2);
}

TEST_F(LostTake, WhoseRowIsGoneTooLeavesTheResults) {
  fs::copy_file(take_with("one note off"), bench + "/c.flac");
  write_file(manifest, "take,serial,retake\na.flac,HW-1,1\nb.flac,HW-2,1\nc.flac,HW-1,2\n");
  const Words resumed{"--results", results, "--resume"};
  EXPECT_EQ(run(resumed).exit_status, 1);
  fs::remove(bench + "/c.flac");
  write_file(manifest, "take,serial,retake\na.flac,HW-1,1\nb.flac,HW-2,1\n");
  const ProgramRun done = run(resumed);
  EXPECT_EQ(done.exit_status, 0) << done.out;
  EXPECT_EQ(done.err, "windway: note: 1 take is no longer there; its result is removed from " + results + ": " + bench +
                          "/c.flac\n");
  EXPECT_EQ(lines_of(read_file(results)).size(), 2U);
  const ProgramRun summary = run_windway({"summary", results});
  EXPECT_EQ(summary.out, done.out);
  EXPECT_EQ(summary.exit_status, 0);
  EXPECT_EQ(run(resumed).err, "");
}

}  // namespace
}  // namespace windway::cli_tests
