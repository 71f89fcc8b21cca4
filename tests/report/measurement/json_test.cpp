// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/json.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "report/measurement/invented_measurement.hpp"

namespace windway {
namespace {

using OrderedJson = nlohmann::ordered_json;
using report_tests::invented_measurement;

OrderedJson parsed(const Measurement& measurement) { return OrderedJson::parse(json_report(measurement, "1.2.3")); }

std::vector<std::string> keys_of(const OrderedJson& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

TEST(JsonReport, HasTheKeysOfTheContractInTheirOrder) {
  const OrderedJson json = parsed(invented_measurement());
  const std::vector<std::string> top{"schema",   "program",    "takes",     "subject",  "settings", "holds",
                                     "notes",    "compromise", "repeat_db", "drift",    "places",   "agreement",
                                     "warnings", "figures",    "left_out",  "arguments"};
  EXPECT_EQ(keys_of(json), top);
  EXPECT_EQ(json["schema"], "windway.measurement.v1");
  EXPECT_EQ(json["program"]["version"], "1.2.3");
  const std::vector<std::string> hold{"take",
                                      "note",
                                      "midi",
                                      "fingering",
                                      "blow",
                                      "start_s",
                                      "end_s",
                                      "steady_start_s",
                                      "steady_end_s",
                                      "frequency_hz",
                                      "frequency_u95_cents",
                                      "deviation_cents",
                                      "deviation_at_reference_cents",
                                      "wander_cents",
                                      "level_db",
                                      "register_break",
                                      "used",
                                      "why_not"};
  EXPECT_EQ(keys_of(json["holds"][0]), hold);
  const std::vector<std::string> moved{"cents",        "u95_cents", "effort",  "breath",
                                       "breath_share", "breath_db", "beats_hz"};
  EXPECT_EQ(keys_of(json["notes"][0]["moved"]), moved);
  EXPECT_EQ(json["settings"]["instrument"]["lowest"], "D5");
  EXPECT_EQ(json["settings"]["instrument"]["scale"][2], "F#5");
  EXPECT_EQ(json["settings"]["temperament"]["name"], "equal");
  EXPECT_EQ(json["compromise"]["check_note"]["note"], "D5");
}

TEST(JsonReport, SaysNullForWhatWasNotMeasured) {
  Measurement measurement = invented_measurement();
  const OrderedJson note = parsed(measurement)["notes"][3];
  for (const char* key : {"soft_cents", "soft_u95_cents", "spread_cents", "cents_per_db", "reach_soft_cents"}) {
    EXPECT_TRUE(note.contains(key) && note[key].is_null()) << key;
  }
  measurement.compromise.reset();
  const OrderedJson json = parsed(measurement);
  EXPECT_TRUE(json["compromise"].is_null());
  EXPECT_TRUE(json["drift"].is_null());
  EXPECT_TRUE(json["notes"][0]["moved"].is_null());
  EXPECT_TRUE(json["subject"]["serial"].is_null());
  EXPECT_TRUE(json["settings"]["travel_mm"].is_null());
  EXPECT_TRUE(json["arguments"].is_null());
}

TEST(JsonReport, KeepsAHoldOutsideTheScaleWithItsReason) {
  const OrderedJson hold = parsed(invented_measurement())["holds"][10];
  EXPECT_EQ(hold["note"], "C6");
  EXPECT_EQ(hold["midi"], 84);
  EXPECT_EQ(hold["used"], false);
  EXPECT_EQ(hold["why_not"], "not in this scale");
  EXPECT_TRUE(hold["blow"].is_null());
}

TEST(JsonReport, GivesNoReasonForAHoldThatIsUsed) {
  const OrderedJson hold = parsed(invented_measurement())["holds"][0];
  EXPECT_EQ(hold["used"], true);
  EXPECT_TRUE(hold["why_not"].is_null());
  EXPECT_EQ(hold["blow"], "soft");
}

TEST(JsonReport, NeverHoldsAFigureThatIsNoNumber) {
  Measurement measurement = invented_measurement();
  measurement.compromise->slide_u95_mm = std::numeric_limits<double>::quiet_NaN();
  measurement.breath.notes[0].moderate.u95_cents = std::numeric_limits<double>::infinity();
  const OrderedJson json = parsed(measurement);
  EXPECT_TRUE(json["compromise"]["slide_u95_mm"].is_null());
  EXPECT_TRUE(json["notes"][0]["moderate_u95_cents"].is_null());
}

TEST(JsonReport, KeepsAMillionthOfACent) {
  const OrderedJson json = parsed(invented_measurement());
  EXPECT_NEAR(json["holds"][0]["frequency_u95_cents"].get<double>(), 0.0123456789, 1e-6);
  EXPECT_NEAR(json["holds"][3]["frequency_hz"].get<double>(), equal_tempered_hz(78, 440.0), 1e-6);
}

TEST(JsonReport, SpellsNotesSoThatANameDependsOnItsKeyNumberOnly) {
  Measurement measurement = invented_measurement();
  measurement.naming.instrument.lowest_midi = 77;  // in F people write Bb
  measurement.settings.note_names = NoteNames::german;
  measurement.breath.notes[0].id.midi = 82;
  EXPECT_EQ(parsed(measurement)["notes"][0]["note"], "A#5");
}

TEST(JsonReport, SurvivesAPathThatIsNoUtf8) {
  Measurement measurement = invented_measurement();
  measurement.takes[0].path = "caf\xe9.wav";
  EXPECT_EQ(parsed(measurement)["takes"][0]["path"], "caf\uFFFD.wav");
}

TEST(JsonReport, IsTheSameBytesForTheSameMeasurement) {
  EXPECT_EQ(json_report(invented_measurement(), "1"), json_report(invented_measurement(), "1"));
}

}  // namespace
}  // namespace windway
