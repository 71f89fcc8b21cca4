// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;

/// Two takes of one flute, blown alike; the second so much sharper, its head so far out.
struct SeveralTakes : testing::Test {
  ProgramRun run(double sharper_cents, const std::vector<std::string>& more = {}, double out_mm = 0.0) const {
    write_scale_take(folder.path("a.wav"));
    write_scale_take(folder.path("b.wav"), 12.0 + sharper_cents, out_mm);
    std::vector<std::string> words{"measure", folder.path("a.wav"), folder.path("b.wav")};
    words.insert(words.end(), whistle_in_d.begin(), whistle_in_d.end());
    words.insert(words.end(), more.begin(), more.end());
    return run_windway(words);
  }
  ScratchFolder folder;
};

TEST_F(SeveralTakes, ThatAgreeSaySoInPlaceOfTheWordOnOneTake) {
  const ProgramRun agreeing = run(0.3);
  EXPECT_EQ(agreeing.exit_status, 0) << agreeing.err;
  EXPECT_TRUE(agreeing.out.starts_with("Draw the head out ")) << agreeing.out;
  EXPECT_TRUE(has(agreeing.out, "  The 2 takes agree within 0.3 cents (±")) << agreeing.out;
  EXPECT_FALSE(has(agreeing.out, "One take cannot show")) << agreeing.out;
}

TEST_F(SeveralTakes, ThatDisagreeGiveNoMoveTogetherButOneEach) {
  const ProgramRun apart = run(6.0);
  EXPECT_EQ(apart.exit_status, 0) << apart.err;
  EXPECT_TRUE(apart.out.starts_with("The takes do not agree: on average over all notes,")) << apart.out;
  for (const char* part : {"warmer", "Taken alone"}) EXPECT_TRUE(has(apart.out, part)) << part << apart.out;
  EXPECT_FALSE(has(apart.out, "Draw the head out")) << apart.out;
  EXPECT_FALSE(has(apart.out, "takes agree within")) << apart.out;
  const Json result = Json::parse(run(6.0, {"--format", "json"}).out);
  const Json& agreement = result["agreement"];
  EXPECT_FALSE(agreement["agree"].get<bool>());
  EXPECT_NEAR(agreement["apart_cents"].get<double>(), 6.0, 0.3);
  EXPECT_TRUE(agreement["as_warmth"].get<bool>());
  EXPECT_GT(agreement["takes"][1]["slide_mm"].get<double>(), agreement["takes"][0]["slide_mm"].get<double>());
  EXPECT_TRUE(std::ranges::any_of(result["warnings"], [](const Json& w) { return w["code"] == "takes_disagree"; }));
}

TEST_F(SeveralTakes, ThatHoldTheSameSoundAreRefused) {
  const std::string sample = WINDWAY_SAMPLES_DIR "/takes/hw-0412-steps.flac";
  std::filesystem::copy_file(sample, folder.path("copy.flac"));
  const ProgramRun run = run_windway({"measure", sample, folder.path("copy.flac"), "--kind", "whistle"});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_TRUE(has(run.err, "holds the same sound as")) << run.err;
}

TEST_F(SeveralTakes, AtSeveralPlacesAreAnsweredByTheBestPlace) {
  const ProgramRun placed = run(0.0, {"--head-out", "0,2"}, 2.0);
  EXPECT_EQ(placed.exit_status, 0) << placed.err;
  EXPECT_TRUE(has(placed.out, "worked out for the head 1 mm")) << placed.out;
  EXPECT_TRUE(has(placed.out, "head 1 mm out")) << placed.out;
  const Json result = Json::parse(run(0.0, {"--head-out", "0", "--head-out", "2", "--format", "json"}, 2.0).out);
  EXPECT_EQ(result["places"]["out_mm"], Json({0, 2}));
  EXPECT_EQ(result["settings"]["head_out_mm"], 1);
}

TEST_F(SeveralTakes, AtOnePlaceForAllAreAsWithoutTheirPlaces) {
  Json one = Json::parse(run(0.3, {"--head-out", "2", "--format", "json"}).out);
  Json each = Json::parse(run(0.3, {"--head-out", "2,2", "--format", "json"}).out);
  EXPECT_NE(one["arguments"], each["arguments"]);
  one.erase("arguments");
  each.erase("arguments");
  EXPECT_EQ(one, each);
  EXPECT_TRUE(each["places"].is_null());
  EXPECT_EQ(each["settings"]["head_out_mm"], 2);
}

}  // namespace
}  // namespace windway::cli_tests
