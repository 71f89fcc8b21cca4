// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/described_schema.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "report/measurement/invented_measurement.hpp"
#include "report/measurement/json.hpp"

namespace windway {
namespace {

std::string shipped_schema(const std::string& name) {
  std::ifstream file(WINDWAY_TESTS_DIR "/../lib/report/schemas/" + name + ".schema.json");
  return {std::istreambuf_iterator<char>(file), {}};
}

TEST(Schemas, AreThoseThatTheFieldsDescribe) {
  for (const std::string format : {"measurement", "card", "check", "comparison", "partner", "playing", "protocol",
                                   "summary", "history", "take_history"}) {
    const std::string shipped = shipped_schema("windway." + format + ".v1");
    ASSERT_FALSE(shipped.empty()) << format;
    EXPECT_EQ(shipped, report_tests::described_schema(shipped)) << "scripts/bless writes it anew";
  }
}

TEST(SchemaOfAMeasurement, HasEveryKeyOfARecordInTheOrderInWhichItIsWritten) {
  using Json = nlohmann::ordered_json;
  Measurement measurement = report_tests::invented_measurement();
  measurement.breath.drift = Drift{};
  measurement.places = HeadPlaces{};
  measurement.agreement = TakeAgreement{};
  measurement.compromise->steady_blow = SteadyBlow{};
  const Json written = Json::parse(json_report(measurement, "1.2.3"));
  const Json records = Json::parse(shipped_schema("windway.measurement.v1"))["$defs"];
  const auto expect_same_keys = [](const Json& record, const Json& object) {
    std::vector<std::string> keys, described;
    for (const auto& item : object.items()) keys.push_back(item.key());
    for (const auto& item : record["properties"].items()) described.push_back(item.key());
    EXPECT_EQ(keys, described);
  };
  expect_same_keys(records["take"], written["takes"][0]);
  expect_same_keys(records["settings"], written["settings"]);
  expect_same_keys(records["hold"], written["holds"][0]);
  expect_same_keys(records["note"], written["notes"][0]);
  expect_same_keys(records["compromise"], written["compromise"]);
  const Json& of_move = records["compromise"]["properties"];
  expect_same_keys(of_move["steady_blow"], written["compromise"]["steady_blow"]);
  expect_same_keys(of_move["check_note"], written["compromise"]["check_note"]);
  expect_same_keys(records["note"]["properties"]["moved"], written["notes"][0]["moved"]);
  expect_same_keys(records["drift"], written["drift"]);
  expect_same_keys(records["places"], written["places"]);
  expect_same_keys(records["agreement"], written["agreement"]);
}

}  // namespace
}  // namespace windway
