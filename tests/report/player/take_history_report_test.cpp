// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/take_history_report.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "card/even_flute.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using Json = nlohmann::json;
using test::even_flute;

/// Three takes: the second 3 cents sharper, the third with its A5 6 cents sharper beside.
std::vector<FluteResult> three_takes() {
  Measurement third = even_flute(13);
  third.breath.notes[4].moderate.cents += 6;
  third = test::with_move(third);
  std::vector<FluteResult> takes{{"in/a.json", even_flute(10)}, {"in/b.json", even_flute(13)}, {"in/c.json", third}};
  for (std::size_t i = 0; i < takes.size(); ++i)
    takes[i].measurement.takes[0].recorded_at = "2026-03-0" + std::to_string(i + 1);
  return takes;
}

TEST(TakeHistoryText, SaysWhatAllNotesDidAndWhichNoteChangedBeside) {
  const std::string text = unwrapped(text_of(take_history_prose(take_history(three_takes()))));
  EXPECT_TRUE(has(text, "3 takes of one flute (whistle in D from D5), in order of time.")) << text;
  EXPECT_TRUE(has(text,
                  "a.json to b.json: the whole scale has risen 3.0 cents (± 0.2); no note surely differs from "
                  "the others."))
      << text;
  EXPECT_TRUE(has(text,
                  "b.json to c.json: the whole scale has risen 0.4 cents (± 0.2); apart from that, in cents, A5 +5.6 "
                  "(± 0.5)."))
      << text;
  EXPECT_TRUE(has(text, "The place of the head is not known for both takes")) << text;
  EXPECT_TRUE(has(text, "From take to take, a note strays")) << text;
}

TEST(TakeHistoryText, FitsEightyColumns) {
  std::istringstream lines(text_of(take_history_prose(take_history(three_takes()))));
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), 80U) << line;
}

TEST(TakeHistoryText, SaysThatTheOrderIsTheOneGiven) {
  std::vector<FluteResult> takes = three_takes();
  takes[1].measurement.takes[0].recorded_at.reset();
  EXPECT_TRUE(has(unwrapped(text_of(take_history_prose(take_history(takes)))), "in the order given"));
  EXPECT_FALSE(has(text_of(take_history_prose(take_history({takes[1]}))), "given"));
}

TEST(TakeHistoryText, NamesTheWholePathsOfFilesThatAreCalledAlike) {
  std::vector<FluteResult> takes = three_takes();
  takes[1].name = "out/a.json";
  EXPECT_TRUE(has(unwrapped(text_of(take_history_prose(take_history(takes)))), "in/a.json to out/a.json:"));
}

TEST(TakeHistoryText, TellsNoMoveOfATakeInDeepDoubt) {
  std::vector<FluteResult> takes = three_takes();
  takes[1].measurement = even_flute(90);
  const std::string text = text_of(take_history_prose(take_history(takes)));
  EXPECT_TRUE(has(text, "warning: b.json: the whole scale is 90")) << text;
  const Json json = Json::parse(take_history_json(take_history(takes), ""));
  for (const Json& take : json["takes"])
    EXPECT_EQ(take["slide_mm"].is_null(), take["path"] == "in/b.json") << take.dump();
}

TEST(TakeHistoryCsv, HasARowANoteOfEachTake) {
  std::istringstream csv(take_history_csv(take_history(three_takes())));
  std::string line;
  std::getline(csv, line);
  EXPECT_EQ(line,
            "path,recorded_at,a4_hz,air_c,head_out_mm,home_a4_hz,slide_mm,slide_u95_mm,limit,note,midi,moderate_cents,"
            "moderate_u95_cents,change_cents,change_u95_cents,is_real,apart_cents,apart_u95_cents,is_apart\r");
  int rows = 0, firsts = 0;
  while (std::getline(csv, line)) {
    ++rows;
    firsts += line.ends_with(",,,,,,\r") ? 1 : 0;
  }
  EXPECT_EQ(rows, 3 * 14);
  EXPECT_EQ(firsts, 14);
}

TEST(TakeHistoryJson, HasTakesStepsAndAgreement) {
  const Json json = Json::parse(take_history_json(take_history(three_takes()), "1.2.3"));
  EXPECT_EQ(json["schema"], "windway.take_history.v1");
  EXPECT_EQ(json["takes"].size(), 3U);
  EXPECT_EQ(json["takes"][2]["recorded_at"], "2026-03-03");
  EXPECT_EQ(json["steps"][1]["notes"][4]["is_apart"], true);
  EXPECT_NEAR(json["steps"][1]["notes"][4]["change_cents"].get<double>(), 6.0, 1e-5);
  EXPECT_GT(json["agreement"]["note_sd_cents"].get<double>(), 0.0);
}

}  // namespace
}  // namespace windway
