// SPDX-License-Identifier: GPL-3.0-or-later
// samples/evening from end to end: each answer within its stated u95 of what is built into the sounds.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run_program.hpp"
#include "report/wording/layout.hpp"
#include "support/ffmpeg.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;

void expect_within_u95(double stated, double u95, double truth) { EXPECT_NEAR(stated, truth, u95); }

TEST(Evening, EveryAnswerHoldsTheTruthWithinItsUncertainty) {
  const ScratchFolder folder;
  const ProgramRun run = run_program({WINDWAY_SAMPLES_DIR "/evening", WINDWAY_BUILD_DIR, folder.path()});
  ASSERT_EQ(run.exit_status, 0) << run.err;
  const auto json = [&](const std::string& name) { return Json::parse(read_file(folder.path(name))); };
  EXPECT_NE(unbroken(run.out).find("still getting warmer"), std::string::npos);  // the cold take
  std::istringstream lines(run.out);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("$ ") || line.starts_with("# ")) continue;  // the script's own
    EXPECT_LE(display_width(line), text_columns) << line;
  }

  const Json partner = json("partner.json");
  expect_within_u95(partner["a4_hz"], partner["a4_u95_hz"], 441.3);
  EXPECT_NEAR(partner["a4_hz"].get<double>(), 441.3, 0.1);

  // The truth is to a hundredth of a millimetre.
  constexpr double grid_mm = 0.005;
  const Json warm = json("warm.json"), truth_warm = json("truth-warm.json");
  const double told_mm = warm["compromise"]["slide_mm"];
  expect_within_u95(told_mm, warm["compromise"]["slide_u95_mm"].get<double>() + grid_mm, truth_warm["slide_mm"]);

  const Json together = json("places.json"), &law = together["places"];
  EXPECT_TRUE(together["agreement"]["agree"].get<bool>());
  expect_within_u95(law["slide_factor"], law["slide_factor_u95"], 1.0);
  const double place_mm = law["at_mm"].get<double>() + together["compromise"]["slide_mm"].get<double>();
  EXPECT_EQ(together["settings"]["head_out_mm"], law["at_mm"]);
  expect_within_u95(place_mm, together["compromise"]["slide_u95_mm"].get<double>() + grid_mm, truth_warm["slide_mm"]);
  // One sound, kept in two ways: nothing of the blowing differs.
  if (synthesis::has_ffmpeg()) {
    const Json telephone = json("telephone.json");
    EXPECT_EQ(telephone["takes"][0]["lossy"], true);
    EXPECT_NEAR(telephone["compromise"]["slide_mm"].get<double>(), told_mm, 0.01);
  }

  const Json check = json("check.json");
  const double slipped_mm = std::stod(read_file(folder.path("head-slipped.txt")));
  EXPECT_FALSE(check["is_set"].get<bool>());
  expect_within_u95(check["rest_mm"], check["rest_u95_mm"], told_mm - slipped_mm);
  const Json again = json("check-again.json");
  const double head_mm = std::stod(read_file(folder.path("head.txt")));
  EXPECT_TRUE(again["is_set"].get<bool>());
  expect_within_u95(again["rest_mm"], again["rest_u95_mm"], told_mm - head_mm);

  const Json compared = json("compare.json"), truth_after = json("truth-after.json");
  expect_within_u95(compared["move"]["slide_factor"], compared["move"]["slide_factor_u95"], 1.0);
  int held = 0;
  for (const Json& note : compared["notes"]) {
    const std::string key = std::to_string(note["midi"].get<int>());
    const double change_cents =
        truth_after["moderate_cents"][key].get<double>() - truth_warm["moderate_cents"][key].get<double>();
    held += std::abs(note["change_cents"].get<double>() - change_cents) <= note["change_u95_cents"].get<double>();
  }
  EXPECT_GE(held, 12);  // of 13: 19 in 20

  // The piano stands between two rows of the card, and so does the move that it asked for.
  const Json rows = json("card.json")["rows"];
  const auto card_mm = [&](int a4_hz) {
    const Json& cell = rows[a4_hz - 438]["cells"][4];  // 25 degrees C
    return cell["slide_mm"].get<double>();
  };
  EXPECT_GT(card_mm(441), told_mm);
  EXPECT_LT(card_mm(442), told_mm);

  // Nothing but the head was moved after the flute was warm, and the history allows for that.
  const Json steps = json("history.json")["steps"];
  ASSERT_EQ(steps.size(), 2U);
  expect_within_u95(steps[1]["together_cents"], steps[1]["together_u95_cents"], 0.0);
  for (const Json& note : steps[1]["notes"]) EXPECT_FALSE(note["is_apart"].get<bool>()) << note["note"];

  const Json further = json("playing.json")["further_move"];
  expect_within_u95(further["slide_mm"], further["slide_u95_mm"].get<double>() + grid_mm,
                    truth_after["playing_slide_mm"]);
  EXPECT_GT(further["slide_mm"].get<double>(), 0.2);  // one blows harder when one plays
}

}  // namespace
}  // namespace windway::cli_tests
