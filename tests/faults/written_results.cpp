// SPDX-License-Identifier: GPL-3.0-or-later
#include "faults/written_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "cli/made_once.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "instrument/note.hpp"
#include "support/noise.hpp"
#include "support/sound_file.hpp"
#include "support/struck_strings.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Call = std::vector<std::string>;
using Formats = std::vector<std::string>;

constexpr auto output = "OUTPUT";

Call joined(Call words, const Call& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// An invented piano that plays A4 and A5.
void write_two_piano_notes(const std::string& path) {
  constexpr double rate_hz = 24000.0;
  std::vector<synthesis::StruckNote> notes(2);
  for (std::size_t at = 0; at < notes.size(); ++at) {
    notes[at].start_s = 0.4 + 2.4 * static_cast<double>(at);
    notes[at].first_hz = equal_tempered_hz(69 + 12 * static_cast<int>(at), 441.3);
  }
  synthesis::Random random(1);
  synthesis::write_sound(path, synthesis::struck_strings(notes, 5.2, rate_hz, -60.0, random), rate_hz);
}

void must_work(const Call& call, int exit_status = 0) {
  const ProgramRun run = run_windway(call);
  if (run.exit_status != exit_status) throw std::runtime_error(call.front() + ": " + run.err + run.out);
}

void lay_out(const std::string& folder) {
  const auto at = [&](const char* name) { return folder + "/" + name; };
  const std::string take = at("take.wav"), moved = at("moved.wav");
  write_scale_take(take);
  write_scale_take(moved, 12.0, 1.3);
  write_two_piano_notes(at("piano.wav"));
  const Call measure = joined({"measure", take, "--head-out", "2"}, whistle_in_d);
  must_work(joined(measure, {"--output", at("before.json")}));
  must_work(joined({"measure", moved, "--output", at("after.json")}, whistle_in_d));
  constexpr int one_is_not_measured = 3;
  must_work(whole_bench_call({"--results", at("bench.jsonl")}), one_is_not_measured);
  must_work({"drone", "D5", "--seconds", "1", "--output", at("earlier.wav")});
  must_work({"drone", "D5", "--seconds", "1", "--output", at("earlier.flac")});
}

std::string ending_of(const std::string& format) {
  if (format == "text") return ".txt";
  if (format == "junit") return ".xml";
  return "." + format.substr(0, format.find('-'));
}

class ResultList {
 public:
  std::vector<WrittenResult> results;

  void add(const Call& call, const Formats& formats, bool removes_earlier = false, int exit_status = 0) {
    for (const std::string& format : formats) {
      WrittenResult result;
      result.name = call.front() + " " + format;
      result.call = joined(call, {"--format", format});
      result.ending = ending_of(format);
      result.removes_earlier = removes_earlier;
      result.exit_status = exit_status;
      results.push_back(result);
    }
  }
};

std::vector<WrittenResult> all_written() {
  const auto& at = on_desk;
  ResultList list;
  list.add(joined({"measure", at("take.wav")}, whistle_in_d), {"text", "csv", "json", "html", "svg"});
  list.add({"card", at("before.json")}, {"text", "html"});
  list.add({"check", at("moved.wav"), "--after", at("before.json")}, {"text", "json", "html"});
  list.add({"compare", at("before.json"), at("after.json")}, {"text", "csv", "json", "html"});
  list.add({"history", at("before.json"), at("after.json")}, {"text", "html", "csv", "json"});
  list.add({"partner", at("piano.wav")}, {"text", "csv"});
  list.add({"playing", at("take.wav"), "--against", at("before.json")}, {"text", "csv", "json", "html"});
  list.add({"protocol", "--instrument", "D whistle"}, {"text", "json"});
  list.add(batch_call({take_with(""), take_with("", 1)}), {"text", "html", "svg", "csv", "jsonl", "junit"}, true);
  list.add({"summary", at("bench.jsonl")}, {"text", "html", "svg", "csv", "jsonl", "junit", "json", "csv-statistics"},
           true, 3);
  list.results.push_back(
      {.name = "sheet", .call = {"sheet", at("before.json")}, .ending = ".html", .removes_earlier = true});
  list.results.push_back({.name = "sheet of a serial",
                          .call = {"sheet", "HW-1001", "--results", at("bench.jsonl")},
                          .ending = ".html",
                          .removes_earlier = true});
  list.results.push_back({.name = "instruments write",
                          .call = {"instruments", "write", output, "--from", "D whistle", "--replace"},
                          .ending = ".toml"});
  for (const std::string ending : {".wav", ".flac"})
    list.results.push_back({.name = "drone " + ending,
                            .call = {"drone", "A5", "--seconds", "2", "--output", output},
                            .ending = ending,
                            .earlier = read_file(on_desk("earlier" + ending))});
  return list.results;
}

std::vector<WrittenResult> all_printed() {
  std::vector<WrittenResult> answers;
  for (const Call& call : {Call{},
                           {"--help"},
                           {"--version"},
                           {"batch", "--help"},
                           {"instruments", "list"},
                           {"instruments", "show", "descant"},
                           {"instruments", "check", small_bench() + "/d-whistle.toml"},
                           whole_bench_call({"--check-manifest"})}) {
    WrittenResult answer;
    answer.name = call.empty() ? "no word" : call.front() + " " + call.back();
    answer.call = call;
    answers.push_back(answer);
  }
  return answers;
}

}  // namespace

std::string on_desk(const std::string& name) {
  static const std::string desk = made_once("desk", lay_out);
  return desk + "/" + name;
}

bool WrittenResult::names_its_file() const { return std::ranges::find(call, output) != call.end(); }

std::vector<std::string> WrittenResult::call_to(const std::string& path) const {
  Call words = call;
  if (!names_its_file()) return joined(words, {"--output", path});
  std::ranges::replace(words, std::string(output), path);
  return words;
}

const std::vector<WrittenResult>& written_results() {
  static const std::vector<WrittenResult> all = all_written();
  return all;
}

const std::vector<WrittenResult>& printed_answers() {
  static const std::vector<WrittenResult> all = all_printed();
  return all;
}

std::vector<std::string> complaints(const ProgramRun& run) {
  std::vector<std::string> lines = lines_of(run.err);
  std::erase_if(lines, [](const std::string& line) {
    return line.starts_with("windway: note: ") || line.starts_with("windway: warning: ");
  });
  return lines;
}

void expect_one_complaint(const ProgramRun& run, int exit_status, const std::string& name, const std::string& why) {
  EXPECT_EQ(run.exit_status, exit_status) << run.err;
  const auto said = complaints(run);
  ASSERT_EQ(said.size(), 1U) << run.err;
  EXPECT_TRUE(said[0].starts_with("windway: ")) << said[0];
  EXPECT_TRUE(has(said[0], name)) << said[0];
  EXPECT_TRUE(has(said[0], why)) << said[0];
  EXPECT_FALSE(has(said[0], "std::")) << said[0];
}

}  // namespace windway::cli_tests
