// SPDX-License-Identifier: GPL-3.0-or-later
// Beyond one machine: scripts/batch_shards and scripts/batch.slurm against the single run, and samples/bench_check.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

const std::string scripts = WINDWAY_SAMPLES_DIR "/../scripts";
const std::string bench_check = WINDWAY_SAMPLES_DIR "/bench_check";
const std::string program = "WINDWAY=" + windway_program();

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// The bench with retakes of three instruments, named by serial and retake, as a list.
struct Shards : testing::Test {
  Shards() {
    fs::create_directory(folder.path("takes"));
    std::string names;
    int number = 0;
    for (const fs::directory_entry& entry : fs::directory_iterator(small_bench())) {
      if (entry.path().extension() != ".flac") continue;
      const std::string serial = entry.path().filename().string().substr(0, 7);
      const int retakes = ++number % 4 == 0 ? 2 : 1;
      for (int retake = 1; retake <= retakes; ++retake) {
        const std::string place = folder.path("takes/" + serial + "_final_" + std::to_string(retake) + ".flac");
        fs::copy_file(entry.path(), place);
        names += place + "\n";
      }
    }
    list = folder.path("list");
    write_file(list, names);
    EXPECT_EQ(lines_of(names).size(), 15U);
    single =
        run_windway(with(with({"batch", "-"}, options), {"--results", folder.path("single.jsonl")}), {.in_path = list});
  }

  Words sharded(const std::string& out, const Words& more = {}) const {
    return with(with({"env", program, scripts + "/batch_shards", out, "2", "-"}, options), more);
  }

  /// The lines of both parts, in any order, are those of the single run.
  void expect_same_results(const std::string& place) const {
    std::string merged;
    for (const std::string name : {"/shard-1.jsonl", "/shard-2.jsonl"}) {
      const std::string text = read_file(place + name);
      EXPECT_FALSE(text.empty());
      merged += text;
    }
    EXPECT_EQ(sorted_lines(merged), sorted_lines(read_file(folder.path("single.jsonl"))));
    EXPECT_EQ(sorted_lines(read_file(place + "/bench.jsonl")), sorted_lines(merged));
  }

  ScratchFolder folder;
  std::string list;
  Words options{"--serial-from", "{serial}_{stage}_{retake}",
                "--instrument",  small_bench() + "/d-whistle.toml",
                "--head-out",    "5"};
  ProgramRun single;
};

TEST_F(Shards, DoneSideBySideComeToTheBytesOfOneRun) {
  const std::string out = folder.path("out dir");  // a blank in a name hurts nobody
  for (const std::string format : {"text", "junit", "jsonl", "csv"}) {
    const ProgramRun one = run_windway(with(with({"batch", "-"}, options), {"--format", format}), {.in_path = list});
    const ProgramRun run = run_program(sharded(out, {"--format", format}), {.in_path = list});
    EXPECT_EQ(run.exit_status, one.exit_status) << run.err;
    EXPECT_EQ(run.out, one.out) << format;
    EXPECT_EQ(run.err, one.err);
  }
  expect_same_results(out);
  const auto written = fs::last_write_time(out + "/shard-1.jsonl");
  const std::string report = folder.path("report");
  const ProgramRun again = run_program(sharded(out, {"--output", report}), {.in_path = list});
  EXPECT_EQ(again.out, "");
  EXPECT_EQ(read_file(report), single.out);
  EXPECT_EQ(fs::last_write_time(out + "/shard-1.jsonl"), written);  // nothing was done twice
}

TEST_F(Shards, OfAFolderAndAManifestTellEachNoteOnce) {
  std::string manifest = "take,serial,wood\ngone.flac,HW-9999,pear\n";
  for (const std::string& path : lines_of(read_file(list)))
    manifest += fs::path(path).filename().string() + "," + fs::path(path).filename().string().substr(0, 7) + ",\n";
  write_file(folder.path("takes/m.csv"), manifest);
  const Words what{
      folder.path("takes"), "--manifest", folder.path("takes/m.csv"), "--instrument", small_bench() + "/d-whistle.toml",
      "--head-out",         "5"};
  const ProgramRun one = run_windway(with({"batch"}, what));
  const ProgramRun run = run_program(with({"env", program, scripts + "/batch_shards", folder.path("out"), "3"}, what));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(run.out, one.out);
  EXPECT_EQ(run.err, one.err);
  EXPECT_TRUE(has(run.err, "the column wood is copied")) << run.err;
  EXPECT_TRUE(has(run.out, "HW-9999: not measured")) << run.out;
}

TEST_F(Shards, DealtOutAnewAndCutOffAnywhereTellNoInstrumentTwice) {
  const std::string out = folder.path("out");
  Words three = sharded(out);
  three[4] = "3";
  ASSERT_EQ(run_program(three, {.in_path = list}).exit_status, single.exit_status);
  const std::string third = read_file(out + "/shard-3.jsonl");
  write_file(out + "/shard-3.jsonl", third.substr(0, third.size() - 100));  // killed as it wrote, and left so
  const ProgramRun run = run_program(sharded(out), {.in_path = list});
  EXPECT_EQ(run.exit_status, single.exit_status);
  EXPECT_EQ(run.out, single.out);
  EXPECT_EQ(sorted_lines(read_file(out + "/bench.jsonl")), sorted_lines(read_file(folder.path("single.jsonl"))));
}

TEST_F(Shards, DoneByTheTasksOfASlurmArrayComeToTheBytesOfOneRun) {
  const std::string out = folder.path("out");
  fs::create_directory(out);
  fs::copy_file(list, out + "/takes.txt");
  const auto task = [&](const std::string& number) {
    return run_program(with({"env", program, "SLURM_ARRAY_TASK_ID=" + number, "SLURM_CPUS_PER_TASK=2",
                             "SLURM_SUBMIT_DIR=" + scripts + "/..", "bash", scripts + "/batch.slurm", out, "2", "-"},
                            options));
  };
  for (const std::string number : {"2", "1"}) {
    const ProgramRun run = task(number);
    EXPECT_EQ(run.exit_status, 0) << run.err;
    EXPECT_EQ(run.out, "");
  }
  EXPECT_EQ(task("3").exit_status, 2);  // there is no such part
  const ProgramRun run = run_program(sharded(out), {.in_path = list});
  EXPECT_EQ(run.exit_status, single.exit_status);
  EXPECT_EQ(run.out, single.out);
  expect_same_results(out);
}

TEST_F(Shards, WithAMistakeInTheCallEndWithStatusTwoAndSayItOnce) {
  const ProgramRun run = run_program(with({"env", program, scripts + "/batch_shards", folder.path("out"), "2", "-"},
                                          {"--instrument", folder.path("none.toml")}),
                                     {.in_path = list});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, "none.toml")) << run.err;
  EXPECT_EQ(run.err.find("windway: "), run.err.rfind("windway: ")) << run.err;
  EXPECT_TRUE(has(run.err, "a part could not be done")) << run.err;
}

TEST(ShardScripts, SayHowTheyAreCalledWhereTheyAreCalledWrongly) {
  const ScratchFolder folder;
  const std::string out = folder.path("out");
  for (const Words& words : {Words{scripts + "/batch_shards"},
                             {scripts + "/batch_shards", out},
                             {scripts + "/batch_shards", out, "two"},
                             {scripts + "/batch_shards", out, "0"},
                             {scripts + "/batch_shards", out, "bench/", "8"},
                             {scripts + "/batch_shard", "1", out},
                             {"bash", scripts + "/batch.slurm", out}}) {
    const ProgramRun run = run_program(words);
    EXPECT_EQ(run.exit_status, 2);
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(has(run.err, "usage: ")) << run.err;
  }
  EXPECT_TRUE(folder.contents().empty());
}

TEST(BatchShard, ThatIsNoneIsRefused) {
  for (const std::string shard : {"3", "0/2", "3/2", "a/b", ""}) {
    const ProgramRun run = run_windway(batch_call({take_with(""), "--shard", shard}));
    EXPECT_EQ(run.exit_status, 2) << shard;
    EXPECT_TRUE(has(run.err, "--shard")) << run.err;
  }
}

TEST(Scripts, OfShardsAndOfTheBenchCheckHaveNoFaultThatShellcheckFinds) {
  const ProgramRun run = run_program(
      {"shellcheck", scripts + "/batch_shard", scripts + "/batch_shards", scripts + "/batch.slurm", bench_check});
  if (run.exit_status == 127 && std::getenv("WINDWAY_REQUIRE_EXTERNAL") == nullptr)
    GTEST_SKIP() << "no shellcheck here";
  EXPECT_EQ(run.exit_status, 0) << run.out;
}

/// A folder as samples/bench_check takes it, with these takes.
struct BenchCheck : testing::Test {
  void add(const std::string& take) {
    fs::create_directories(folder.path("takes"));
    fs::copy_file(take, folder.path("takes/" + fs::path(take).filename().string()));
    fs::copy_file(small_bench() + "/d-whistle.toml", folder.path("takes/d-whistle.toml"),
                  fs::copy_options::overwrite_existing);
    write_file(folder.path("takes/bench.toml"), "instrument = \"d-whistle.toml\"\nmanifest = \"manifest.csv\"\n");
    rows += fs::path(take).filename().string() + "," + fs::path(take).filename().string().substr(0, 7) + ",5\n";
    write_file(folder.path("takes/manifest.csv"), rows);
  }
  /// Exits with `status` and says this sentence; both reports are there, or neither where nothing was judged.
  void expect(int status, const std::string& sentence) const {
    const ProgramRun run = run_program({"env", program, bench_check, folder.path("takes"), folder.path("out")});
    EXPECT_EQ(run.exit_status, status) << run.err;
    EXPECT_TRUE(run.out.starts_with(sentence)) << run.out;
    EXPECT_EQ(lines_of(run.out).size(), 1U) << run.out;
    if (status == 2) {
      EXPECT_FALSE(fs::exists(folder.path("out/bench.xml")));
      EXPECT_FALSE(fs::exists(folder.path("out/bench.txt")));
    } else {
      EXPECT_TRUE(has(read_file(folder.path("out/bench.xml")), "<testsuites"));
      EXPECT_TRUE(has(read_file(folder.path("out/bench.txt")), "instrument"));
    }
  }
  ScratchFolder folder;
  std::string rows = "take,serial,head_out_mm\n";
};

TEST_F(BenchCheck, ActsOnEachExitStatusWithASentence) {
  add(take_with(""));
  expect(0, "Every instrument passes.");
  add(take_with("one note off"));
  expect(1, "At least one instrument is out of tolerance");
  add(take_with("silent take"));
  expect(3, "At least one instrument could not be judged");
  EXPECT_EQ(lines_of(read_file(folder.path("out/results.jsonl"))).size(), 3U);
  write_file(folder.path("takes/manifest.csv"), "nothing\n");
  expect(2, "The call, or a file that it names, has a mistake");
}

}  // namespace
}  // namespace windway::cli_tests
