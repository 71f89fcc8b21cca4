// SPDX-License-Identifier: GPL-3.0-or-later
// A result that was saved is as good as its take: measure says it again, card and history are made of it.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "report/wording/layout.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

std::string sample(const std::string& name) { return WINDWAY_SAMPLES_DIR "/takes/hw-" + name + ".flac"; }

Words joined(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

struct SavedResult : testing::Test {
  /// What the call measures, saved under this name.
  std::string saved(const Words& call, const std::string& name = "saved.json") const {
    const ProgramRun run =
        run_windway(joined(joined({"measure"}, call), {"--format", "json", "--output", folder.path(name)}));
    EXPECT_EQ(run.exit_status, 0) << run.err;
    return folder.path(name);
  }
  static void expect_refused(const Words& call, int status, const std::string& what) {
    const ProgramRun run = run_windway(call);
    EXPECT_EQ(run.exit_status, status) << call.back() << run.err;
    EXPECT_EQ(run.out, "");
    EXPECT_TRUE(has(run.err, what)) << run.err;
  }
  ScratchFolder folder;
};

constexpr auto instrument_file = R"(name = "invented"
kind = "whistle"
lowest = "D5"
stretch_cents_per_octave = 3
[head]
travel_mm = 8
slide_factor = 0.97
slide_factor_u95 = 0.02
[[note]]
note = "D6"
fingering = "vented"
register = 2
[[note]]
note = "G5"
target_cents = -8
[[note]]
note = "E7"
target_cents = 5
[temperament]
name = "own"
key = "D"
cents = [0, 90, 200, 310, 390, 500, 590, 700, 810, 890, 1000, 1090]
)";

TEST_F(SavedResult, IsReportedAsItsTakeWas) {
  write_file(folder.path("mine.toml"), instrument_file);
  write_one_note_take(folder.path("one.wav"));
  write_scale_take(folder.path("far.wav"), 90);
  const std::string order = "D5 E5 F#5 G5 A5 B5 C#6 D6:vented E6 F#6 G6 A6 B6";
  const std::vector<Words> calls{
      {sample("0412-steps"), "--fully-in"},
      {sample("0388-recorder"), "--fixed-head", "--note-names", "german"},
      {sample("0405-swells"), "--head-out", "6", "--temperament", "just", "--key", "G", "--a4", "442"},
      {sample("0431-plain")},
      {sample("0427-cold"), "--head-out", "2", "--travel", "2.1", "--quote-at", "20"},
      {sample("0416-talk"), "--humidity", "80", "--co2", "1.3", "--bore-temp", "22.5"},
      {sample("0412-steps"), sample("0412-drawn-out"), "--kind", "whistle", "--lowest", "D5"},
      {sample("0412-steps"), "--instrument", folder.path("mine.toml"), "--order", order, "--fully-in"},
      {sample("0412-steps"), "--partner", sample("0431-plain")},
      {folder.path("one.wav")},
      {folder.path("far.wav"), "--kind", "whistle", "--lowest", "D5"}};
  for (const Words& call : calls) {
    const std::string file = saved(call);
    for (const std::string format : {"text", "csv", "json"}) {
      const ProgramRun first = run_windway(joined(joined({"measure"}, call), {"--format", format}));
      const ProgramRun again = run_windway({"measure", file, "--format", format});
      EXPECT_EQ(again.exit_status, 0) << again.err;
      EXPECT_EQ(again.out, first.out) << call.front() << ' ' << format;
      // What was doubtful about a partner's recording is of that recording, and was said before.
      if (format == "csv" && !has(first.err, "the partner's")) {
        EXPECT_EQ(again.err, first.err) << call.front();
      }
    }
  }
}

TEST_F(SavedResult, HoldsNoSoundToMeasureByOtherOptions) {
  const std::string file = saved({sample("0412-steps")});
  for (const Words& options : {Words{"--min-hold", "0.4"},
                               {"--blown", "soft,moderate,hard"},
                               {"--kind", "whistle"},
                               {"--a4", "442"},
                               {"--fully-in"},
                               {"--quote-at", "20"},
                               {"--weights-from", sample("0431-plain")},
                               {"--note-names", "german"}})
    expect_refused(joined({"measure", file}, options), 2,
                   file + " is a saved result, and " + options.front() + " is for measuring a recording");
  expect_refused({"measure", file, "--curves", "--format", "json"}, 2,
                 "--curves needs the recording, but " + file + " is a saved result");
  expect_refused({"card", file, "--fully-in"}, 2, "--fully-in is for measuring a recording");
  expect_refused({"history", file, "--lowest", "D5"}, 2, "--lowest is for measuring a recording");
}

TEST_F(SavedResult, HoldsTheWordsThatMeasureTheSameAgain) {
  const Words call{"measure", sample("0412-steps"), "--fully-in", "--a4=441"};
  const std::string file = saved({call.begin() + 1, call.end()});
  const Words words = Json::parse(read_file(file))["arguments"];
  EXPECT_EQ(words, call);  // without --format and --output
  EXPECT_EQ(run_windway(joined(words, {"--format=json"})).out, read_file(file));
  const Json with_curves = Json::parse(run_windway(joined(call, {"--curves", "--format", "json"})).out);
  EXPECT_EQ(with_curves["arguments"], Json(call));
}

TEST_F(SavedResult, IsNotPutTogetherWithAnother) {
  const std::string file = saved({sample("0412-steps")});
  expect_refused({"measure", file, sample("0412-drawn-out")}, 2, "cannot be combined with another take");
  expect_refused({"measure", sample("0412-drawn-out"), file}, 2, "cannot be combined with another take");
  expect_refused({"measure", "--soft", file, "--hard", sample("0412-drawn-out")}, 2, "is a saved result");
  expect_refused({"measure", "--soft", file}, 2, "--soft is for measuring a recording");
  expect_refused({"measure", file, "--output", file, "--format", "json"}, 2, "would overwrite");
}

TEST_F(SavedResult, ThatIsNoneIsRefusedInWords) {
  write_file(folder.path("other.json"), R"({"schema": "windway.check.v1"})");
  expect_refused({"measure", folder.path("other.json")}, 3, "it is not a saved result of windway measure");
}

TEST_F(SavedResult, MakesTheCardThatItsTakeMakes) {
  const Words options{"--kind", "whistle", "--lowest", "D5", "--head-out", "1", "--travel", "4"};
  const std::string file = saved(joined({sample("0412-steps")}, options));
  const ProgramRun of_take = run_windway(joined({"card", sample("0412-steps")}, options));
  const ProgramRun of_saved = run_windway({"card", file});
  EXPECT_EQ(of_take.exit_status, 0) << of_take.err;
  EXPECT_EQ(of_saved.out, of_take.out);
  EXPECT_TRUE(has(of_saved.out, "hw-0412-steps.flac")) << of_saved.out;
  std::istringstream lines(of_saved.out);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), 80U) << line;
}

TEST_F(SavedResult, MakesACardOfWhatMeasureSaysOfEachCell) {
  const Words options{"--kind", "whistle", "--lowest", "D5", "--head-out", "1", "--travel", "4"};
  const Json card =
      Json::parse(run_windway({"card", saved(joined({sample("0412-steps")}, options)), "--format", "json"}).out);
  for (const auto& [row, column] : std::vector<std::pair<int, int>>{{0, 6}, {2, 2}, {3, 4}, {7, 0}}) {
    const Json& cell = card["rows"][row]["cells"][column];
    const std::string a4 = std::to_string(card["rows"][row]["a4_hz"].get<int>());
    const std::string temp = std::to_string(cell["bore_temp_c"].get<int>());
    const ProgramRun run = run_windway(joined(joined({"measure", sample("0412-steps")}, options),
                                              {"--a4", a4, "--quote-at", temp, "--format", "json"}));
    const Json result = Json::parse(run.out);
    const Json& told = result["compromise"];
    EXPECT_NEAR(cell["slide_mm"].get<double>(), told["slide_mm"].get<double>(), 5e-6) << a4 << ' ' << temp;
    const auto checked =
        std::ranges::find_if(result["notes"], [&](const Json& note) { return note["note"] == cell["check_note"]; });
    ASSERT_NE(checked, result["notes"].end());
    EXPECT_NEAR(cell["check_cents"].get<double>(), (*checked)["moved"]["cents"].get<double>(), 5e-5);
    EXPECT_EQ(cell["limit"], told["limit"]);
  }
}

TEST_F(SavedResult, MakesNoCardWhereItDoesNotSayWhereTheHeadBelongs) {
  write_one_note_take(folder.path("one.wav"));
  write_scale_take(folder.path("far.wav"), 90);
  expect_refused({"card"}, 2, "which result?");
  expect_refused({"card", sample("0412-steps"), sample("0431-plain")}, 2, "a card is of one flute");
  expect_refused({"card", folder.path("one.wav")}, 3, "one note only");
  expect_refused({"card", folder.path("far.wav"), "--kind", "whistle", "--lowest", "D5"}, 3, "too far for a move");
  expect_refused({"card", saved({sample("0388-recorder"), "--fixed-head"})}, 2, "fixed");
  expect_refused({"card", folder.path("none.json")}, 3, "no such file");
}

TEST_F(SavedResult, HasAPlaceInTheHistoryOfItsFlute) {
  const Words whistle{"--kind", "whistle", "--lowest", "D5"};
  const std::string before = saved(joined({sample("0412-steps"), "--fully-in"}, whistle), "before.json");
  const ProgramRun run =
      run_windway(joined({"history", before, sample("0412-drawn-out"), "--head-out", "1.3"}, whistle));
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(run.out.starts_with("2 takes of one flute (whistle in D from D5)")) << run.out;
  EXPECT_TRUE(has(run.out, "before.json to hw-0412-drawn-out.flac:")) << run.out;
  EXPECT_TRUE(has(run.out, "The head was drawn out")) << run.out;
  const Json json = Json::parse(
      run_windway({"history", before, saved({sample("0412-drawn-out"), "--head-out", "1.3"}), "--format", "json"}).out);
  EXPECT_EQ(json["steps"][0]["drawn_out_mm"], 1.3);
  EXPECT_EQ(json["steps"][0]["notes"].size(), 7U);
  EXPECT_TRUE(has(run_windway({"history", before, "--format", "csv"}).out, "path,recorded_at,a4_hz"));
}

TEST_F(SavedResult, HasNoPlaceInTheHistoryOfAnother) {
  const std::string whistle = saved({sample("0412-steps")}, "whistle.json");
  expect_refused({"history", whistle, saved({sample("0388-recorder")}, "recorder.json")}, 2,
                 "a history is of one flute");
  expect_refused({"history", whistle, whistle}, 2, "twice");
  expect_refused({"history", "HW-1", whistle, "--results", folder.path("r.jsonl")}, 2, "give one serial");
  expect_refused({"history", "HW-1", "--results", folder.path("r.jsonl"), "--a4", "442"}, 2, "--a4 is for measuring");
}

}  // namespace
}  // namespace windway::cli_tests
