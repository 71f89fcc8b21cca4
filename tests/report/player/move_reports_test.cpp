// SPDX-License-Identifier: GPL-3.0-or-later
// What check and compare say of a move.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/measurement/invented_measurement.hpp"
#include "report/player/check_report.hpp"
#include "report/player/compare_report.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using Json = nlohmann::json;

/// A take in which D5 has a second fingering, played as the second note.
Measurement with_vented_d() {
  Measurement measurement = report_tests::invented_measurement();
  auto& scale = measurement.naming.instrument.scale;
  scale.insert(scale.begin() + 1, ScaleNote{.id = {74, "vented"}});
  measurement.breath.notes[1].id = {74, "vented"};
  return measurement;
}

HeadCheck check_of(double rest_mm, double rest_u95_mm, bool is_set) {
  HeadCheck check;
  check.notes = {{.id = {74, "vented"},
                  .reads = {4.1, 0.8},
                  .should_cents = 0.9,
                  .before_cents = 7.9,
                  .rest_mm = rest_mm,
                  .mm_per_cent = 0.17,
                  .rest_u95_mm = rest_u95_mm}};
  check.rest_mm = rest_mm;
  check.rest_u95_mm = rest_u95_mm;
  check.off_cents = 3.2;
  check.off_u95_cents = 0.8;
  check.is_set = is_set;
  return check;
}

TEST(CheckText, GivesTheRestOfTheMoveWithItsUncertainty) {
  const std::string text = unwrapped(text_of(check_prose(check_of(0.54, 0.24, false), with_vented_d())));
  EXPECT_TRUE(has(text,
                  "D5 vented reads +4.1 cents (± 0.8) and should read +0.9: draw the head out another 0.5 mm "
                  "(± 0.2)."))
      << text;
  EXPECT_TRUE(has(text, "Blow it moderately")) << text;
}

TEST(CheckText, OfAHeadThatIsSetSaysHowSurelyWhereThatIsCoarse) {
  const std::string coarse = unwrapped(text_of(check_prose(check_of(0.3, 0.6, true), with_vented_d())));
  EXPECT_TRUE(coarse.starts_with("Set:")) << coarse;
  EXPECT_TRUE(has(coarse, "only to ± 0.6 mm. Several notes")) << coarse;
  EXPECT_FALSE(has(text_of(check_prose(check_of(0.05, 0.2, true), with_vented_d())), "only to"));
}

TEST(CheckText, OfNotesThatDisagreeAsksForNoMove) {
  HeadCheck check = check_of(2.0, 3.0, false);
  check.notes.push_back(check.notes.front());
  check.notes_disagree = true;
  const std::string text = unwrapped(text_of(check_prose(check, with_vented_d())));
  EXPECT_TRUE(text.starts_with("These notes cannot tell whether the head is set.")) << text;
  EXPECT_FALSE(has(text, "draw the head out")) << text;
  EXPECT_TRUE(has(text, "is it the same flute")) << text;
}

TEST(CheckAndCompareJson, TellFurtherFingeringsApart) {
  const Measurement take = with_vented_d();
  const Json check = Json::parse(check_json(check_of(0.5, 0.2, false), take, ""));
  EXPECT_EQ(check["notes"][0]["fingering"], "vented");
  const Json compared = Json::parse(compare_json(compare(take, take, {}), ""));
  EXPECT_TRUE(compared["notes"][0]["fingering"].is_null());
  EXPECT_EQ(compared["notes"][1]["fingering"], "vented");
  EXPECT_EQ(compared["notes"][0]["midi"], compared["notes"][1]["midi"]);
}

TEST(CompareText, SaysHowTheSpreadHasChanged) {
  const Measurement before = report_tests::invented_measurement();
  Measurement after = before;
  after.breath.notes[2].spread = CentsEstimate{before.breath.notes[2].spread->cents - 6.0, 0.3};
  const std::string text = unwrapped(text_of(compare_prose(compare(before, after, {}), before)));
  // Spreads of 7.62, 20.6 and 29.12 cents, then 23.12; u95 of a change 0.3 * sqrt(2).
  EXPECT_TRUE(has(text, "spread 19.1 cents on average before, 17.1 after; of 3 notes, 1 has surely changed.")) << text;
}

}  // namespace
}  // namespace windway
