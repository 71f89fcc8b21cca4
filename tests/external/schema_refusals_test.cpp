// SPDX-License-Identifier: GPL-3.0-or-later
// That the schemas say no: each change that breaks the contract is refused, each addition that it allows is let
// through.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run_program.hpp"
#include "external/json_schema.hpp"
#include "external/required.hpp"

namespace windway::external_tests {
namespace {

using Json = nlohmann::ordered_json;
using Place = Json::json_pointer;

std::string sample(const std::string& name) { return WINDWAY_SAMPLES_DIR "/takes/hw-" + name + ".flac"; }

Json json_of(std::vector<std::string> call) {
  call.insert(call.end(), {"--format", "json"});
  const cli_tests::ProgramRun run = cli_tests::run_windway(call);
  EXPECT_EQ(run.exit_status, 0) << run.err;
  return Json::parse(run.out);
}

/// Two of the notes and holds say as much as all.
Json measured() {
  static const Json whole = json_of({"measure", sample("0427-cold"), "--head-out", "2", "--travel", "2.1"});
  Json json = whole;
  for (const char* list : {"holds", "notes"}) json[list].erase(json[list].begin() + 2, json[list].end());
  return json;
}

/// Two lines of a batch: a take that was measured and judged, a file that is no sound.
std::vector<Json> lines_of_batch() {
  const cli_tests::ScratchFolder folder;
  cli_tests::write_file(folder.path("hw-0000-broken.wav"), "no sound");
  const cli_tests::ProgramRun run = cli_tests::run_windway(
      {"batch", sample("0412-steps"), folder.path("hw-0000-broken.wav"), "--serial-from", "hw-{serial}-{stage}",
       "--tolerance", "12", "--max-spread", "30", "--head-out-range", "1:6", "--fully-in", "--format", "jsonl"});
  std::vector<Json> lines;
  std::istringstream texts(run.out);
  for (std::string text; std::getline(texts, text);) lines.push_back(Json::parse(text));
  std::partition(lines.begin(), lines.end(), [](const Json& line) { return line["error"].is_null(); });
  return lines;
}

/// Every key in a text, the first element of each list standing for all.
std::vector<Place> places_in(const Json& json, const Place& at = Place()) {
  std::vector<Place> places;
  const auto add = [&](const Place& place, const Json& value) {
    const std::vector<Place> inner = places_in(value, place);
    places.insert(places.end(), inner.begin(), inner.end());
  };
  if (json.is_array() && !json.empty()) add(at / 0, json[0]);
  if (!json.is_object()) return places;
  for (const auto& [key, value] : json.items()) {
    places.push_back(at / key);
    add(at / key, value);
  }
  return places;
}

/// A value that is never right where `value` is.
Json of_another_kind(const Json& value) {
  if (value.is_number()) return value.dump();
  if (value.is_object()) return Json::array();
  if (value.is_array()) return Json::object();
  return value.is_boolean() ? Json("true") : value.is_string() ? Json(7) : Json(true);
}

Json changed(Json json, const std::string& place, const Json& value) {
  json[Place(place)] = value;
  return json;
}

Json without(Json json, const Place& place) {
  json[place.parent_pointer()].erase(place.back());
  return json;
}

Judgement judged(const std::string& schema, const std::vector<Json>& texts, Keys keys) {
  std::vector<std::string> lines;
  for (const Json& json : texts) lines.push_back(json.dump());
  return judge(schema, lines, keys);
}

void expect_all_refused(const std::string& schema, const std::vector<Json>& texts, const std::vector<std::string>& what,
                        Keys keys = Keys::more_may_come) {
  const Judgement judgement = judged(schema, texts, keys);
  EXPECT_EQ(judgement.exit_status, 1) << judgement.in_words;
  for (std::size_t i = 0; i < texts.size(); ++i)
    EXPECT_TRUE(judgement.refused.contains(static_cast<int>(i) + 1)) << schema << ": " << what[i];
}

/// Each key in turn left out, and each value in turn of another kind.
void expect_each_key_guarded(const std::string& schema, const Json& json) {
  std::vector<Json> texts;
  std::vector<std::string> what;
  for (const Place& place : places_in(json)) {
    texts.push_back(without(json, place));
    what.push_back("without " + place.to_string());
    texts.push_back(changed(json, place.to_string(), of_another_kind(json[place])));
    what.push_back(place.to_string() + " of another kind");
  }
  EXPECT_EQ(judged(schema, {json}, Keys::as_described).exit_status, 0) << schema;
  expect_all_refused(schema, texts, what);
}

class SchemaRefusals : public testing::Test {
 protected:
  void SetUp() override { WINDWAY_NEEDS(validator_is_there(), "python3-jsonschema"); }
};

TEST_F(SchemaRefusals, NoKeyMayBeMissingAndNoneOfAnotherKind) {
  const std::string cold = sample("0427-cold"), steps = sample("0412-steps"), drawn_out = sample("0412-drawn-out");
  expect_each_key_guarded("windway.measurement.v1", measured());
  expect_each_key_guarded("windway.check.v1", json_of({"check", drawn_out, "--after", steps, "--fully-in"}));
  expect_each_key_guarded("windway.comparison.v1", json_of({"compare", steps, drawn_out, "--drawn-out", "1.3"}));
  expect_each_key_guarded("windway.comparison.v1", json_of({"compare", drawn_out, steps, "--same-setting"}));
  expect_each_key_guarded("windway.partner.v1", json_of({"partner", steps}));
  expect_each_key_guarded("windway.playing.v1", json_of({"playing", steps, "--against", drawn_out}));
  expect_each_key_guarded("windway.protocol.v1", json_of({"protocol", "--instrument", "D whistle"}));
}

TEST_F(SchemaRefusals, NoValueMayBeOutsideItsRange) {
  const std::vector<std::pair<std::string, Json>> changes{{"/schema", "windway.measurement.v2"},
                                                          {"/takes", Json::array()},
                                                          {"/takes/0/sha256", "ABC"},
                                                          {"/takes/0/sha256", nullptr},
                                                          {"/takes/0/recorded_at", "yesterday"},
                                                          {"/settings/a4_hz", 0},
                                                          {"/settings/humidity_percent", 101},
                                                          {"/settings/speed_of_sound_m_s", 0},
                                                          {"/settings/temperament/name", "well"},
                                                          {"/settings/instrument", nullptr},
                                                          {"/settings/instrument/kind", "oboe"},
                                                          {"/holds", Json::array()},
                                                          {"/holds/0/blow", "gentle"},
                                                          {"/holds/0/midi", 128},
                                                          {"/holds/0/midi", 70.5},
                                                          {"/holds/0/note", "Bb4"},
                                                          {"/holds/0/frequency_hz", nullptr},
                                                          {"/holds/0/frequency_u95_cents", -0.1},
                                                          {"/notes/0/register", 0},
                                                          {"/notes/0/holds", 0},
                                                          {"/notes/0/moderate_cents", nullptr},
                                                          {"/notes/0/spread_u95_cents", -1},
                                                          {"/notes/0/moved/breath", "louder"},
                                                          {"/compromise/limit", "stuck"},
                                                          {"/compromise/slide_u95_mm", -1},
                                                          {"/warnings/0/code", "Not Warm"}};
  std::vector<Json> texts;
  std::vector<std::string> what;
  for (const auto& [place, value] : changes) {
    texts.push_back(changed(measured(), place, value));
    what.push_back(place + " as " + value.dump());
  }
  expect_all_refused("windway.measurement.v1", texts, what);
}

TEST_F(SchemaRefusals, ALineOfABatchIsDescribedAndGuarded) {
  const std::string schema = "windway.measurement.v1";
  const std::vector<Json> lines = lines_of_batch();
  ASSERT_EQ(lines.size(), 2U);
  Json judged_take = lines[0];
  const Json& broken = lines[1];
  ASSERT_TRUE(broken["error"].is_string());
  const Judgement judgement = judged(schema, lines, Keys::in_any_order);
  EXPECT_EQ(judgement.exit_status, 0) << judgement.in_words;
  judged_take["subject"]["other"]["bench"] = "2";
  expect_all_refused(
      schema,
      {changed(judged_take, "/verdict/result", "perfect"),
       changed(judged_take, "/verdict/judged/0/criterion", "colour"),
       without(judged_take, Place("/verdict/judged/0/midi")),
       without(judged_take, Place("/verdict/judged/0/value_cents")), changed(judged_take, "/subject/other/bench", 2),
       changed(judged_take, "/subject/retake", "2"), changed(judged_take, "/batch/settings_key", "key"),
       changed(judged_take, "/error", "but it has holds"), changed(broken, "/error", nullptr),
       without(broken, Place("/error"))},
      {"result", "criterion", "midi", "value", "other column", "retake", "settings key", "error with holds",
       "no holds and no error", "no holds, no error"});
}

TEST_F(SchemaRefusals, WhatIsToComeIsLetThroughButNotWhereAllMustBeDescribed) {
  const std::string schema = "windway.measurement.v1";
  Json in_another_order = without(measured(), Place("/schema"));
  in_another_order["schema"] = schema;
  const std::vector<Json> texts{changed(measured(), "/further", 1), changed(measured(), "/notes/0/further", 1),
                                changed(measured(), "/notes/0/moved/further", nullptr), in_another_order};
  const Judgement judgement = judged(schema, texts, Keys::more_may_come);
  EXPECT_EQ(judgement.exit_status, 0) << judgement.in_words;
  expect_all_refused(schema, texts, {"a key", "a key of a note", "a key of its move", "order"}, Keys::as_described);
}

TEST_F(SchemaRefusals, WhatIsNoJsonIsToldApart) {
  const std::string schema = "windway.protocol.v1";
  for (const char* text : {"", "{\"schema\": ", "{\"hold_s\": NaN}", "{\"hold_s\": 1, \"hold_s\": 2}"})
    EXPECT_EQ(judge(schema, {text}, Keys::more_may_come).exit_status, 2) << text;
}

}  // namespace
}  // namespace windway::external_tests
