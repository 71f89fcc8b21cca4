// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/saved.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "analysis.hpp"
#include "report/measurement/invented_measurement.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/text.hpp"
#include "report/pages/measurement_page.hpp"
#include "report/wording/prose.hpp"

namespace windway {
namespace {

using OrderedJson = nlohmann::ordered_json;

std::string error_of(const std::string& text) {
  try {
    measurement_from_json(text, "old.json");
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    return error.what();
  }
  return "";
}

TEST(ReadMeasurement, OfATakeWritesTheSameJsonAndTextOnceMore) {
  MeasureSettings settings;
  settings.instrument.lowest = parse_note("D5", NoteNames::english);
  settings.instrument.kind = Kind::whistle;
  settings.tuning.temperament.name = TemperamentName::meantone;
  settings.head = {true, 0.0, 8.0, SlideFactor{0.97, 0.02}};
  settings.quote_at_c = 23.0;
  const Measurement measurement = measure({WINDWAY_SAMPLES_DIR "/takes/hw-0412-steps.flac"}, settings);
  const std::string json = json_report(measurement, "1.2.3");
  const Measurement again = measurement_from_json(json, "saved");
  EXPECT_EQ(json_report(again, "1.2.3"), json);
  EXPECT_EQ(text_of(measurement_prose(again)), text_of(measurement_prose(measurement)));
}

/// A head that is fixed, notes whose reach is less than 5 cents: what was assumed of them is assumed again.
TEST(ReadMeasurement, OfAFixedHeadSaysTheSameOnItsPage) {
  MeasureSettings settings;
  settings.instrument.lowest = parse_note("F4", NoteNames::english);
  settings.instrument.kind = Kind::recorder;
  settings.head.moves = false;
  Measurement measurement = measure({WINDWAY_SAMPLES_DIR "/takes/hw-0388-recorder.flac"}, settings);
  const Measurement again = measurement_from_json(json_report(measurement, ""), "saved");
  measurement.loudness.clear();  // not saved without curves
  EXPECT_EQ(measurement_page(again, {}), measurement_page(measurement, {}));
}

TEST(ReadMeasurement, KeepsFurtherFingeringsApart) {
  Measurement measurement = report_tests::invented_measurement();
  measurement.naming.instrument.scale.insert(measurement.naming.instrument.scale.begin() + 1,
                                             ScaleNote{.id = {74, "vented"}});
  measurement.breath.notes[1].id = {74, "vented"};
  measurement.compromise->check_note.id.fingering = "vented";
  const Measurement again = measurement_from_json(json_report(measurement, ""), "saved");
  EXPECT_EQ(again.breath.notes[1].id.fingering, "vented");
  EXPECT_EQ(again.compromise->check_note.id.fingering, "vented");
  EXPECT_EQ(again.naming.instrument.scale[1].id.fingering, "vented");
}

TEST(ReadMeasurement, KeepsTheMaker) {
  Measurement measurement = report_tests::invented_measurement();
  EXPECT_FALSE(measurement_from_json(json_report(measurement, ""), "saved").naming.instrument.maker);
  const Maker maker{"Hesper Wrackle", {"3 Osier Lane", "Quillhaven"}, "Wrackle whistle in D"};
  measurement.naming.instrument.maker = maker;
  EXPECT_EQ(measurement_from_json(json_report(measurement, ""), "saved").naming.instrument.maker, maker);
}

TEST(ReadMeasurement, KeepsTheCall) {
  Measurement measurement = report_tests::invented_measurement();
  measurement.arguments = {"measure", "my scale.wav", "--kind", "whistle"};
  const std::string json = json_report(measurement, "1.2.3");
  const Measurement again = measurement_from_json(json, "saved");
  EXPECT_EQ(again.arguments, measurement.arguments);
  EXPECT_EQ(json_report(again, "1.2.3"), json);
}

TEST(ReadMeasurement, OfAVersionThatKnewNoMakerHasNone) {
  OrderedJson saved = OrderedJson::parse(json_report(report_tests::invented_measurement(), ""));
  saved["settings"]["instrument"].erase("maker");
  EXPECT_FALSE(measurement_from_json(saved.dump(), "old.json").naming.instrument.maker);
}

TEST(ReadMeasurement, KeepsWhatWasFoundOfSeveralTakes) {
  Measurement measurement = report_tests::invented_measurement();
  measurement.takes.push_back(measurement.takes.front());
  measurement.places = HeadPlaces{{0.0, 2.0}, 1.0, SlideFactor{0.97, 0.03}, true, 0.4, {{81}}};
  TakeAgreement agreement;
  agreement.apart = {0.8, 0.5};
  agreement.note_u95_cents = 1.5;
  agreement.takes = {{0, {0.0, 0.0}, 0.0, {}, {}}, {1, {0.8, 0.5}, -0.1, 1.2, 0.1}};
  agreement.notes = {{{81}, 1, {7.0, 1.0}}};
  agreement.left_out = {2};
  measurement.agreement = agreement;
  const std::string json = json_report(measurement, "1.2.3");
  const Measurement again = measurement_from_json(json, "saved");
  EXPECT_EQ(json_report(again, "1.2.3"), json);
  EXPECT_EQ(text_of(measurement_prose(again)), text_of(measurement_prose(measurement)));
  EXPECT_EQ(again.places->not_following, measurement.places->not_following);
  EXPECT_EQ(again.agreement->takes[1].slide_mm, 1.2);
}

TEST(ReadMeasurement, KeepsWhereNotesAreMeantThoseNotPlayedToo) {
  Measurement measurement = report_tests::invented_measurement();
  Instrument& instrument = measurement.naming.instrument;
  instrument.stretch_cents_per_octave = 4.0;
  instrument.scale.front().target_cents = -2.5;
  instrument.scale.back().target_cents = 5.0;  // not played
  const Measurement again = measurement_from_json(json_report(measurement, ""), "saved");
  EXPECT_EQ(again.naming.instrument.stretch_cents_per_octave, 4.0);
  EXPECT_EQ(own_targets(again.naming.instrument), own_targets(instrument));
  OrderedJson json = OrderedJson::parse(json_report(measurement, ""));
  EXPECT_EQ(json["settings"]["instrument"]["targets"].size(), 2U);
  json["settings"]["instrument"].erase("targets");
  json["settings"]["instrument"].erase("stretch_cents_per_octave");
  const Instrument older = measurement_from_json(json.dump(), "saved").naming.instrument;
  EXPECT_TRUE(own_targets(older).empty());
  EXPECT_EQ(older.stretch_cents_per_octave, 0.0);
}

TEST(ReadMeasurement, TakesWhatAnOlderWindwayDidNotWriteAsUnsaid) {
  OrderedJson json = OrderedJson::parse(json_report(report_tests::invented_measurement(), ""));
  for (const char* key : {"humidity_percent", "co2_percent", "quote_at_c", "slide_factor", "note_names", "a4_u95_hz"})
    json["settings"].erase(key);
  for (OrderedJson& note : json["notes"]) note.erase("fingering"), note.erase("weight");
  for (const char* key : {"repeat_db", "places", "agreement"}) json.erase(key);
  json["compromise"].erase("lowest_a4_hz");
  const Measurement again = measurement_from_json(json.dump(), "saved");
  EXPECT_EQ(again.settings.air.co2_fraction, Air{}.co2_fraction);
  EXPECT_EQ(again.breath.notes[0].weight, 1.0);
  EXPECT_FALSE(again.breath.repeat_db || again.compromise->lowest_a4_hz || again.settings.head.factor);
}

TEST(ReadMeasurement, RefusesInWordsWhatIsNone) {
  EXPECT_NE(error_of("").find("no whole JSON text"), std::string::npos);
  EXPECT_NE(error_of("{\"schema\": \"windway.measurement.v1\", ").find("no whole JSON text"), std::string::npos);
  EXPECT_NE(error_of("{\"schema\": \"other\"}").find("schema"), std::string::npos);
  EXPECT_NE(error_of("[1, 2]").find("old.json"), std::string::npos);
  EXPECT_NE(error_of("{\"schema\": \"windway.measurement.v1\"}").find("not a saved result"), std::string::npos);
  OrderedJson json = OrderedJson::parse(json_report(report_tests::invented_measurement(), ""));
  json["notes"][0]["midi"] = "D";
  EXPECT_NE(error_of(json.dump()).find("--format json --output"), std::string::npos);
  json["notes"][0]["midi"] = 500;
  EXPECT_NE(error_of(json.dump()).find("0 to 127"), std::string::npos);
  json["notes"][0]["midi"] = 74;
  json["notes"][1]["register"] = 0;
  EXPECT_NE(error_of(json.dump()).find("its \"register\" cannot be 0"), std::string::npos);
  json["notes"][1]["register"] = 1;
  json["settings"]["instrument"]["lowest"] = "D";
  EXPECT_NE(error_of(json.dump()).find("the note \"D\" has no octave"), std::string::npos) << error_of(json.dump());
  EXPECT_THROW(read_measurement("/no/such/file.json"), Error);
}

TEST(ReadMeasurement, RefusesFiguresThatCannotBe) {
  const auto json = OrderedJson::parse(json_report(report_tests::invented_measurement(), ""));
  const auto error_with = [&](const char* place, double figure) {
    auto changed = json;
    changed[OrderedJson::json_pointer(place)] = figure;
    return error_of(changed.dump());
  };
  EXPECT_NE(error_with("/notes/0/moderate_cents", 1e300).find("its \"moderate_cents\" cannot be 1e+300"),
            std::string::npos);
  for (const char* place :
       {"/holds/0/level_db", "/holds/0/take", "/notes/0/holds", "/settings/bore_temp_c", "/settings/humidity_percent"})
    EXPECT_NE(error_with(place, 1e10), "") << place;
  for (const char* place : {"/notes/0/moderate_u95_cents", "/compromise/home_a4_hz", "/holds/0/frequency_hz"})
    EXPECT_NE(error_with(place, -1), "") << place;
  EXPECT_NE(error_with("/holds/0/frequency_hz", 1e-300), "");
  EXPECT_EQ(error_with("/notes/0/moderate_cents", 12), "");
}

TEST(ReadMeasurement, RefusesAHoldWithoutItsFrequency) {
  auto json = OrderedJson::parse(json_report(report_tests::invented_measurement(), ""));
  json["holds"][0].erase("frequency_hz");
  EXPECT_NE(error_of(json.dump()).find("frequency_hz"), std::string::npos);
}

}  // namespace
}  // namespace windway
