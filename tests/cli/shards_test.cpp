// SPDX-License-Identifier: GPL-3.0-or-later
// Beyond one machine: scripts/batch_shards and scripts/batch.slurm against the single run, and samples/bench_check.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

const std::string scripts = WINDWAY_SAMPLES_DIR "/../scripts";
const std::string bench_check = WINDWAY_SAMPLES_DIR "/bench_check";
const std::string program = "WINDWAY=" + windway_program();

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// n, mean, SD and the outermost, whatever order they were summed in.
void expect_same_moments(const Json& one, const Json& other) {
  ASSERT_EQ(one.size(), 5U);
  for (const auto& [key, value] : one.items())
    EXPECT_NEAR(other[key].get<double>(), value.get<double>(), 1.5e-6) << key;
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

  /// What one run does and what the shards have done are the same.
  void expect_same(const std::string& place, const std::string& statistics) const {
    std::string merged;
    for (const std::string name : {"/shard-1.jsonl", "/shard-2.jsonl"}) {
      const std::string text = read_file(place + name);
      EXPECT_FALSE(text.empty());
      merged += text;
    }
    EXPECT_EQ(sorted_lines(merged), sorted_lines(read_file(folder.path("single.jsonl"))));
    const ProgramRun whole = run_windway({"summary", folder.path("single.jsonl"), "--format", "json"});
    const Json one = Json::parse(whole.out), other = Json::parse(statistics);
    for (const char* key : {"takes", "overtaken", "verdicts"}) EXPECT_EQ(one[key], other[key]) << key;
    for (const char* key : {"head_rests", "home_a4", "octave"}) expect_same_moments(one[key], other[key]);
    ASSERT_EQ(one["notes"].size(), 15U);
    ASSERT_EQ(other["notes"].size(), 15U);
    for (std::size_t note = 0; note < 15; ++note) {
      EXPECT_EQ(one["notes"][note]["note"], other["notes"][note]["note"]);
      for (const char* key : {"left", "spread"})
        expect_same_moments(one["notes"][note][key], other["notes"][note][key]);
    }
  }

  ScratchFolder folder;
  std::string list;
  Words options{
      "--serial-from", "{serial}_{stage}_{retake}", "--instrument", small_bench() + "/bench.toml", "--head-out", "5"};
  ProgramRun single;
};

TEST_F(Shards, DoneSideBySideComeToWhatOneRunComesTo) {
  const std::string out = folder.path("out dir");  // a blank in a name hurts nobody
  const Words call =
      with(with({"env", program, scripts + "/batch_shards", out, "2"}, options), {"--", "--format", "json"});
  const ProgramRun run = run_program(call, {.in_path = list});
  EXPECT_EQ(run.exit_status, single.exit_status) << run.err;
  expect_same(out, run.out);
  const auto written = fs::last_write_time(out + "/shard-1.jsonl");
  const ProgramRun again = run_program(call, {.in_path = list});
  EXPECT_EQ(again.out, run.out);
  EXPECT_EQ(fs::last_write_time(out + "/shard-1.jsonl"), written);  // nothing was done twice
}

TEST_F(Shards, DoneByTheTasksOfASlurmArrayComeToWhatOneRunComesTo) {
  const std::string out = folder.path("out");
  ASSERT_EQ(run_program(with({scripts + "/batch_split", out, "2"}, options), {.in_path = list}).exit_status, 0);
  const auto task = [&](const std::string& number) {
    return run_program(with({"env", program, "SLURM_ARRAY_TASK_ID=" + number, "SLURM_CPUS_PER_TASK=2",
                             "SLURM_SUBMIT_DIR=" + scripts + "/..", "bash", scripts + "/batch.slurm", out},
                            options));
  };
  for (const std::string number : {"2", "1"}) EXPECT_EQ(task(number).exit_status, 0);
  const ProgramRun run = run_windway({"summary", out + "/shard-2.jsonl", out + "/shard-1.jsonl", "--format", "json"});
  EXPECT_EQ(run.exit_status, single.exit_status);
  expect_same(out, run.out);
  EXPECT_NE(task("3").exit_status, 0);  // no such shard was dealt out
}

TEST_F(Shards, KeepTheTakesOfOneInstrumentTogether) {
  std::string manifest = "take;serial;stage\r\n";
  for (const std::string& path : lines_of(read_file(list)))
    manifest += "\"takes/" + fs::path(path).filename().string() + "\"; " +
                fs::path(path).filename().string().substr(0, 7) + ";final\r\n";
  write_file(folder.path("m.csv"), "\xEF\xBB\xBF" + manifest);
  std::vector<std::map<std::string, std::string>> ways;  // the shard of each take
  for (const Words& by : {Words{"--manifest", folder.path("m.csv")}, {"--serial-from={serial}_{stage}_{retake}"}}) {
    const std::string out = folder.path("out" + std::to_string(ways.size()));
    ASSERT_EQ(run_program(with({scripts + "/batch_split", out, "5"}, by), {.in_path = list}).exit_status, 0);
    auto& shard_of = ways.emplace_back();
    std::map<std::string, std::set<int>> shards_of;
    for (int shard = 1; shard <= 5; ++shard) {
      for (const std::string& path : lines_of(read_file(out + "/shard-" + std::to_string(shard) + ".takes"))) {
        shards_of[fs::path(path).filename().string().substr(0, 7)].insert(shard);
        shard_of[path] = std::to_string(shard);
      }
    }
    EXPECT_EQ(shard_of.size(), 15U);
    EXPECT_EQ(shards_of.size(), 12U);
    for (const auto& [serial, shards] : shards_of) EXPECT_EQ(shards.size(), 1U) << serial;
  }
  EXPECT_EQ(ways[0], ways[1]);
}

TEST_F(Shards, ThatCannotBeDoneAreToldAndEndTheStatus) {
  const ProgramRun run = run_program(with({"env", program, scripts + "/batch_shards", folder.path("out"), "2"},
                                          {"--instrument", folder.path("none.toml")}),
                                     {.in_path = list});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, "none.toml")) << run.err;
  EXPECT_TRUE(has(run.err, "a shard could not be done")) << run.err;
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
    fs::copy_file(small_bench() + "/bench.toml", folder.path("takes/bench.toml"), fs::copy_options::overwrite_existing);
    rows += fs::path(take).filename().string() + "," + fs::path(take).filename().string().substr(0, 7) + ",5\n";
    write_file(folder.path("takes/manifest.csv"), rows);
  }
  /// Exits with `status` and says this sentence, and both reports are there.
  void expect(int status, const std::string& sentence) const {
    const ProgramRun run = run_program({"env", program, bench_check, folder.path("takes"), folder.path("out")});
    EXPECT_EQ(run.exit_status, status) << run.err;
    EXPECT_TRUE(run.out.starts_with(sentence)) << run.out;
    EXPECT_EQ(lines_of(run.out).size(), 1U) << run.out;
    if (status != 2) {
      EXPECT_TRUE(has(read_file(folder.path("out/bench.xml")), "<testsuites"));
    }
    if (status != 2) {
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
  expect(2, "The call, the manifest or the instrument file has a mistake");
}

}  // namespace
}  // namespace windway::cli_tests
