// SPDX-License-Identifier: GPL-3.0-or-later
// Recordings that are broken or odd: each has its exit status, one sentence or a result of finite numbers, and an end.
// What each came to stands in faults.txt in the folder of the build.
#include "faults/odd_recordings.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <random>
#include <set>

#include "cli/small_bench.hpp"
#include "faults/written_results.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

const Words formats{"wav", "flac", "ogg", "aiff"};

/// Measured with its JSON on standard output; a run that does not end is killed after a minute: exit status 137.
ProgramRun measured_whole(const std::string& path) {
  return run_program({"timeout", "--signal=KILL", "60", windway_program(), "measure", "--format", "json", "--kind",
                      "whistle", "--lowest", "D5", "--", path});
}

bool holds_finite_numbers_only(const Json& json) {
  if (json.is_number()) return std::isfinite(json.get<double>());
  return !json.is_structured() || std::ranges::all_of(json, holds_finite_numbers_only);
}

/// What it said, or its warnings and notes where it measured.
std::string said_of(const ProgramRun& run) {
  if (run.exit_status != 0) return run.err;
  const Json json = Json::parse(run.out, nullptr, false);
  if (json.is_discarded()) return "no JSON";
  std::string said;
  for (const Json& note : json["notes"]) said += note["note"].get<std::string>() + " ";
  for (const Json& warning : json["warnings"]) said += warning["message"].get<std::string>() + " ";
  return said + json["takes"][0]["path"].get<std::string>();
}

/// Exit status 0 and a result of finite numbers, or 3 and one sentence that names the take.
void expect_an_answer(const ProgramRun& run) {
  if (run.exit_status == 0) {
    const Json json = Json::parse(run.out, nullptr, false);
    ASSERT_FALSE(json.is_discarded()) << run.out.substr(0, 200);
    EXPECT_TRUE(holds_finite_numbers_only(json));
    EXPECT_FALSE(json["notes"].empty());
    EXPECT_TRUE(complaints(run).empty()) << run.err;
    return;
  }
  EXPECT_EQ(run.out, "");
  expect_one_complaint(run, 3, "windway: ");
}

/// A table in the folder of the build, for people to read.
class FaultTable {
 public:
  explicit FaultTable(const std::string& name) : file_(std::string(WINDWAY_BUILD_DIR) + "/" + name) {}
  void add(const std::string& name, const ProgramRun& run) {
    constexpr std::size_t most_said = 110;
    std::string said = unwrapped(said_of(run));
    if (const std::size_t colon = said.find(": ", 9); run.exit_status != 0 && colon != std::string::npos)
      said = said.substr(colon + 2);
    file_ << name << std::string(name.size() < 36 ? 36 - name.size() : 1, ' ') << run.exit_status << "  "
          << said.substr(0, most_said) << "\n";
  }

 private:
  std::ofstream file_;
};

TEST(OddRecordings, HaveTheAnswersOfTheTable) {
  FaultTable table("faults.txt");
  for (const OddRecording& odd : odd_recordings()) {
    SCOPED_TRACE(odd.name);
    const ScratchFolder folder;
    const std::string path = folder.path(odd.file_name);
    odd.write(path);
    const ProgramRun run = measured_whole(path);
    table.add(odd.name, run);
    expect_an_answer(run);
    EXPECT_EQ(run.exit_status, odd.exit_status) << run.err;
    const bool is_named = has(run.err, path) || odd.file_name != "a.wav";  // other names are shown otherwise
    EXPECT_TRUE(run.exit_status == 0 || is_named) << run.err;
    EXPECT_TRUE(has(said_of(run), odd.words)) << said_of(run);
  }
}

TEST(OddRecordings, InABatchStopNothingAndSayTheSame) {
  const ScratchFolder folder;
  Words call = batch_call({"--results", folder.path("r.jsonl")});
  std::map<std::string, std::string> words_of;
  std::size_t at = 0;
  for (const OddRecording& odd : odd_recordings()) {
    const fs::path place = folder.path(std::to_string(at++));
    fs::create_directory(place);
    odd.write((place / odd.file_name).string());
    // A folder is a folder of takes, and a name that is no UTF-8 stands in JSON with a sign for what it cannot hold.
    if (odd.name == "a folder") continue;
    call.push_back((place / odd.file_name).string());
    words_of[place.string()] = odd.exit_status == 0     ? ""
                               : odd.name == "a socket" ? "a batch reads files"  // nor waits for what is none
                                                        : odd.words;
  }
  const ProgramRun run = run_windway(call);
  EXPECT_EQ(run.exit_status, 3) << run.err;
  const auto lines = lines_of(read_file(folder.path("r.jsonl")));
  ASSERT_EQ(lines.size(), words_of.size());
  for (const std::string& line : lines) {
    const Json result = Json::parse(line);
    const std::string path = result["takes"][0]["path"];
    SCOPED_TRACE(path);
    EXPECT_TRUE(holds_finite_numbers_only(result));
    const std::string words = words_of.at(fs::path(path).parent_path().string());
    const std::string error = result.value("error", Json()).is_string() ? result["error"].get<std::string>() : "";
    EXPECT_EQ(error.empty(), words.empty()) << error;
    EXPECT_TRUE(has(error, words)) << error;
  }
}

TEST(OddRecordings, AmongGoodOnesAreNamedAndEndTheWork) {
  const ProgramRun run = run_windway({"measure", on_desk("take.wav"), on_desk("missing.wav")});
  expect_one_complaint(run, 3, "missing.wav");
  EXPECT_EQ(run.out, "");
}

TEST(OddRecordings, CutOffAnywhereAreMeasuredAsFarAsTheyGoOrRefused) {
  FaultTable table("faults-cut-off.txt");
  const ScratchFolder folder;
  for (const std::string& format : formats) {
    const std::string whole = whole_take(format);
    std::set<std::size_t> lengths{whole.size() - 1};
    for (std::size_t length = 1; length < 64; length += 6) lengths.insert(length);
    for (std::size_t part = 1; part < 12; ++part) lengths.insert(whole.size() * part / 12);
    std::size_t measured = 0;
    for (const std::size_t length : lengths) {
      SCOPED_TRACE(format + " of " + std::to_string(length) + " bytes");
      const std::string path = folder.path("a." + format);
      write_file(path, whole.substr(0, length));
      const ProgramRun run = measured_whole(path);
      table.add(format + ", " + std::to_string(length) + " of " + std::to_string(whole.size()), run);
      expect_an_answer(run);
      measured += run.exit_status == 0 ? 1 : 0;
    }
    EXPECT_GE(measured, 6U) << format;  // what goes on long enough for a note
    EXPECT_LT(measured, lengths.size()) << format;
  }
}

/// Some bits turned, half of the time in the first 200 bytes alone.
std::string damaged(std::string bytes, std::mt19937& random) {
  const std::size_t reach = random() % 2 == 0 ? std::min<std::size_t>(200, bytes.size()) : bytes.size();
  const std::size_t flips = 1 + random() % 24;
  for (std::size_t flip = 0; flip < flips; ++flip) {
    char& byte = bytes[random() % reach];
    byte = static_cast<char>(static_cast<unsigned char>(byte) ^ (1U << (random() % 8)));
  }
  return bytes;
}

TEST(OddRecordings, WithBitsTurnedAtRandomHaveAnAnswer) {
  constexpr unsigned variants = 200;
  FaultTable table("faults-turned-bits.txt");
  const ScratchFolder folder;
  std::map<int, unsigned> count_of_status;
  std::map<std::string, std::string> whole;
  for (const std::string& format : formats) whole[format] = whole_take(format);
  for (unsigned seed = 1; seed <= variants; ++seed) {
    const std::string& format = formats[seed % formats.size()];
    std::mt19937 random(seed);
    const std::string path = folder.path("a." + format);
    write_file(path, damaged(whole[format], random));
    SCOPED_TRACE(format + ", seed " + std::to_string(seed));
    const ProgramRun run = measured_whole(path);
    table.add(format + ", seed " + std::to_string(seed), run);
    expect_an_answer(run);
    ++count_of_status[run.exit_status];
  }
  EXPECT_GE(count_of_status[0], variants / 4);
  EXPECT_GE(count_of_status[3], variants / 10);
}

/// A pipe with a name that somebody writes into, so that opening it does not wait for ever.
ProgramRun measured_from_pipe(const std::string& path, const std::string& content) {
  if (mkfifo(path.c_str(), 0600) != 0) throw std::runtime_error("no pipe " + path);
  const pid_t writer = fork();
  if (writer == 0) {
    signal(SIGPIPE, SIG_IGN);
    const int descriptor = open(path.c_str(), O_WRONLY | O_CLOEXEC);
    std::string_view rest = content;
    while (!rest.empty()) {
      const ssize_t count = write(descriptor, rest.data(), rest.size());
      if (count <= 0) break;
      rest.remove_prefix(static_cast<std::size_t>(count));
    }
    _exit(0);
  }
  const ProgramRun run = measured_whole(path);
  kill(writer, SIGKILL);
  waitpid(writer, nullptr, 0);
  return run;
}

TEST(OddRecordings, FromAPipeWithANameAreReadOrRefusedAsFilesAre) {
  const ScratchFolder folder;
  const ProgramRun good = measured_from_pipe(folder.path("good.wav"), whole_take("wav"));
  EXPECT_EQ(good.exit_status, 0) << good.err;
  expect_an_answer(good);
  const ProgramRun empty = measured_from_pipe(folder.path("empty.wav"), "");
  expect_one_complaint(empty, 3, "cannot read " + folder.path("empty.wav"), "it is empty");
  const ProgramRun cut_off = measured_from_pipe(folder.path("cut.wav"), whole_take("wav").substr(0, 150000));
  EXPECT_EQ(cut_off.exit_status, 0) << cut_off.err;
  EXPECT_TRUE(has(said_of(cut_off), "ends early")) << said_of(cut_off);
}

}  // namespace
}  // namespace windway::cli_tests
