// SPDX-License-Identifier: GPL-3.0-or-later
// What windway writes as JSON, against the schemas that are shipped with it (lib/report/schemas), by an independent
// validator: jsonschema (Debian python3-jsonschema), JSON Schema draft 2020-12. Here a key that no schema describes, or
// one in another place than described, is a mistake.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "external/json_schema.hpp"
#include "external/required.hpp"
#include "instrument/note.hpp"
#include "support/melodies.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"
#include "support/struck_strings.hpp"

namespace windway::external_tests {
namespace {

using cli_tests::run_windway;
using Words = std::vector<std::string>;

std::string sample_take(const std::string& name) { return WINDWAY_SAMPLES_DIR "/takes/hw-" + name + ".flac"; }

/// A whistle in D that has been calibrated, with two fingerings of its D6 and a temperament of its own.
constexpr auto instrument_file = R"(name = "invented"
kind = "whistle"
lowest = "D5"
tolerance_cents = 10
[head]
travel_mm = 8
slide_factor = 0.97
slide_factor_u95 = 0.02
[[note]]
note = "D6"
fingering = "vented"
register = 2
[temperament]
name = "own"
key = "D"
cents = [0, 90, 200, 310, 390, 500, 590, 700, 810, 890, 1000, 1090]
)";

/// Calls of the built program, each with `--format json`, held against a schema all together.
class WrittenJson : public testing::Test {
 protected:
  void SetUp() override { WINDWAY_NEEDS(validator_is_there(), "python3-jsonschema"); }

  /// What the call writes. It may end with a status that says what was found, but never without a word.
  static std::string written(Words call) {
    call.insert(call.end(), {"--format", "json"});
    const cli_tests::ProgramRun run = run_windway(call);
    EXPECT_FALSE(run.out.empty()) << run.err;
    return run.out;
  }
  static void expect_described(const std::string& schema, const std::vector<Words>& calls,
                               Keys keys = Keys::as_described) {
    std::vector<std::string> texts;
    for (const Words& call : calls) texts.push_back(written(call));
    const Judgement judgement = judge(schema, texts, keys);
    EXPECT_EQ(judgement.exit_status, 0) << judgement.in_words;
  }
  std::string saved(const std::string& take, const Words& options) const {
    Words call{"measure", take};
    call.insert(call.end(), options.begin(), options.end());
    cli_tests::write_file(folder_.path("saved.json"), written(call));
    return folder_.path("saved.json");
  }
  std::string instrument() const {
    cli_tests::write_file(folder_.path("mine.toml"), instrument_file);
    return folder_.path("mine.toml");
  }
  std::string piano() const;
  std::string melody() const;

  cli_tests::ScratchFolder folder_;
};

/// An invented piano: A4, D5, E5 and A5; the last note has two strings apart.
std::string WrittenJson::piano() const {
  std::vector<synthesis::StruckNote> notes;
  for (const int midi : {69, 74, 76, 81}) {
    synthesis::StruckNote note;
    note.start_s = 0.4 + 2.4 * static_cast<double>(notes.size());
    note.first_hz = equal_tempered_hz(midi, 441.3);
    if (midi == 81) note.strings_cents = {-2.0, 2.0};
    notes.push_back(note);
  }
  constexpr double rate_hz = 48000.0;
  synthesis::Random random(1);
  synthesis::write_sound(folder_.path("piano.wav"), synthesis::struck_strings(notes, 10.0, rate_hz, -60.0, random),
                         rate_hz);
  return folder_.path("piano.wav");
}

/// A tune of the whistle in D from D5.
std::string WrittenJson::melody() const {
  synthesis::Random random(7);
  const synthesis::FluteModel flute = synthesis::draw_flute({.overall_cents = 8.0}, random);
  const auto tune = synthesis::play_melody_on(flute, 74, {.duration_s = 15.0}, random);
  synthesis::write_sound(folder_.path("tune.wav"), tune.sound.samples, tune.sound.rate_hz);
  return folder_.path("tune.wav");
}

TEST(Schemas, ThereIsASoundOneForEachFormatInTheSources) {
  WINDWAY_NEEDS(validator_is_there(), "python3-jsonschema");
  const std::set<std::string> shipped = shipped_schemas();
  EXPECT_EQ(shipped, schemas_in_sources());
  EXPECT_GE(shipped.size(), 8U);
  for (const std::string& schema : shipped) {
    EXPECT_EQ(judge_schema(schema), 0) << schema;
    const auto json = nlohmann::json::parse(
        cli_tests::read_file(WINDWAY_TESTS_DIR "/../lib/report/schemas/" + schema + ".schema.json"));
    EXPECT_EQ(json["properties"]["schema"]["const"], schema);
  }
}

TEST_F(WrittenJson, OfMeasureIsDescribedForEveryKindOfTake) {
  expect_described("windway.measurement.v1",
                   {{"measure", sample_take("0412-steps"), "--fully-in"},
                    {"measure", sample_take("0388-recorder"), "--fixed-head"},
                    {"measure", sample_take("0405-swells"), "--head-out", "6"},
                    {"measure", sample_take("0431-plain"), "--lowest", "C"},
                    {"measure", sample_take("0427-cold"), "--head-out", "2", "--travel", "2.1"},
                    {"measure", sample_take("0416-talk"), "--kind", "recorder"},
                    {"measure", sample_take("0412-steps"), sample_take("0412-drawn-out")}});
}

TEST_F(WrittenJson, OfMeasureIsDescribedWhateverIsAsked) {
  const std::string take = sample_take("0412-steps");
  const std::string order = "D5 E5 F#5 G5 A5 B5 C#6 D6:vented E6 F#6 G6 A6 B6";
  expect_described(
      "windway.measurement.v1",
      {{"measure", take, "--instrument", instrument(), "--order", order, "--fully-in"},
       {"measure", take, "--temperament", "just", "--key", "G", "--note-names", "german"},
       {"measure", take, "--temperament", "meantone", "--quote-at", "20", "--humidity", "100", "--co2", "1"},
       {"measure", take, "--blown", "soft,moderate,hard", "--a4", "442", "--min-hold", "0.3"},
       {"measure", "--soft", take, "--hard", sample_take("0412-drawn-out")},
       {"measure", take, "--scale", "D5 E5 F#5 G5 A5 C#6 D6", "--a4", "415"},
       {"measure", take, "--partner", piano(), "--weights-from", melody()}});
}

TEST_F(WrittenJson, OfMeasureIsDescribedForEveryDateThatAFileSays) {
  std::vector<Words> calls;
  for (const std::string date : {"2024", "2024-05", "2024-05-06", "2024-05-06T07:08", "2024-05-06T07:08:09Z"}) {
    const std::string take = folder_.path(date + ".flac");
    const auto sox = cli_tests::run_program({"sox", sample_take("0431-plain"), "--comment", "DATE=" + date, take});
    WINDWAY_NEEDS(sox.exit_status == 0, "sox");
    calls.push_back({"measure", take});
    EXPECT_EQ(nlohmann::json::parse(written(calls.back()))["takes"][0]["recorded_at"], date);
  }
  expect_described("windway.measurement.v1", calls);
}

TEST_F(WrittenJson, OfCardIsDescribed) {
  expect_described("windway.card.v1", {{"card", saved(sample_take("0412-steps"), {"--fully-in", "--travel", "1.5"})},
                                       {"card", sample_take("0405-swells"), "--a4", "442", "--head-out", "6"},
                                       {"card", sample_take("0431-plain")}});
}

TEST_F(WrittenJson, OfTheHistoryOfOneFluteIsDescribed) {
  const std::string before = saved(sample_take("0412-steps"), {"--fully-in"});
  expect_described("windway.take_history.v1",
                   {{"history", before}, {"history", before, sample_take("0412-drawn-out"), "--head-out", "1.3"}});
}

TEST_F(WrittenJson, OfCheckIsDescribed) {
  const std::string before = saved(sample_take("0412-steps"), {"--fully-in", "--travel", "8"});
  expect_described("windway.check.v1",
                   {{"check", sample_take("0412-drawn-out"), "--after", before},
                    {"check", sample_take("0412-steps"), "--after", before, "--tolerance", "1"},
                    {"check", sample_take("0431-plain"), "--after", before},
                    {"check", sample_take("0405-swells"), "--after", sample_take("0405-swells"), "--head-out", "1"}});
}

TEST_F(WrittenJson, OfCompareIsDescribed) {
  const std::string before = saved(sample_take("0412-steps"), {"--fully-in"});
  expect_described("windway.comparison.v1", {{"compare", before, sample_take("0412-drawn-out"), "--drawn-out", "1.3"},
                                             {"compare", sample_take("0412-drawn-out"), before, "--pushed-in", "1.3"},
                                             {"compare", before, sample_take("0412-steps"), "--same-setting"},
                                             {"compare", before, sample_take("0431-plain")},
                                             {"compare", sample_take("0405-swells"), before}});
}

TEST_F(WrittenJson, OfPartnerIsDescribed) {
  expect_described("windway.partner.v1",
                   {{"partner", piano()},
                    {"partner", piano(), "--temperament", "just", "--key", "D", "--kind", "recorder", "--lowest", "C5"},
                    {"partner", sample_take("0412-steps"), "--instrument", "D whistle"}});
}

TEST_F(WrittenJson, OfPlayingIsDescribed) {
  const std::string scale = saved(sample_take("0412-steps"), {"--fully-in"});
  expect_described("windway.playing.v1", {{"playing", melody()},
                                          {"playing", melody(), "--against", scale, "--fully-in"},
                                          {"playing", melody(), "--scale", "D5 E5 G5 A5", "--fixed-head"},
                                          {"playing", sample_take("0388-recorder"), "--temperament", "pythagorean"}});
}

TEST_F(WrittenJson, OfProtocolIsDescribed) {
  expect_described("windway.protocol.v1",
                   {{"protocol", "--instrument", "descant"},
                    {"protocol", "--instrument", instrument(), "--up-only"},
                    {"protocol", "--kind", "whistle", "--lowest", "Bb4", "--note-names", "german"}});
}

TEST_F(WrittenJson, OfBatchesTheirStatisticsAndHistoriesIsDescribed) {
  cli_tests::write_file(folder_.path("hw-0000-broken.wav"), "no sound");
  const std::string results = folder_.path("results.jsonl");
  const std::string mine = instrument();
  const auto batch =
      run_windway({"batch", sample_take("0412-steps"), sample_take("0412-drawn-out"), sample_take("0427-cold"),
                   folder_.path("hw-0000-broken.wav"), "--serial-from", "hw-{serial}-{stage}", "--tolerance", "12",
                   "--max-spread", "30", "--head-out-range", "1:6", "--results", results, "--format", "jsonl"});
  const auto of_instrument =
      run_windway({"batch", sample_take("0412-steps"), "--instrument", mine, "--format", "jsonl"});
  const auto of_nothing = run_windway({"batch", sample_take("0431-plain"), "--format", "jsonl"});
  const Judgement judgement =
      judge("windway.measurement.v1", {batch.out, of_instrument.out, of_nothing.out}, Keys::in_any_order);
  EXPECT_EQ(judgement.exit_status, 0) << judgement.in_words;
  EXPECT_EQ(std::ranges::count(batch.out + of_instrument.out + of_nothing.out, '\n'), 6);
  expect_described("windway.summary.v1",
                   {{"summary", results, "--group-by", "stage"}, {"summary", results, "--keeper", "0412"}},
                   Keys::in_any_order);
  expect_described("windway.history.v1", {{"history", "0412", "--results", results}}, Keys::in_any_order);
}

}  // namespace
}  // namespace windway::external_tests
