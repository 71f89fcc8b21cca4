// SPDX-License-Identifier: GPL-3.0-or-later
// Where an instrument's file means its notes, and what work would mend an instrument that fails, through the program.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "support/bench_takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Json = nlohmann::json;
using Words = std::vector<std::string>;

constexpr auto meant = R"(kind = "whistle"
lowest = "D5"
tolerance_cents = 8

[[note]]
note = "G5"
target_cents = -8

[[note]]
note = "A5"
target_cents = 30

[[note]]
note = "C6"
optional = true
)";

constexpr double equal_a5_hz = 880.0;

struct Targets : testing::Test {
  Targets() {
    write_file(folder.path("meant.toml"), meant);
    write_scale_take(folder.path("scale.wav"));
    write_one_note_take(folder.path("one.wav"));
  }
  Json json_of(Words call) const {
    call.insert(call.end(), {"--format", "json"});
    const ProgramRun run = run_windway(call);
    EXPECT_EQ(run.exit_status, 0) << run.err;
    return Json::parse(run.out);
  }
  Words with_file(Words call) const {
    call.insert(call.end(), {"--instrument", folder.path("meant.toml"), "--fully-in"});
    return call;
  }
  std::string saved() const {
    run_windway(
        with_file({"measure", folder.path("scale.wav"), "--format", "json", "--output", folder.path("before.json")}));
    return folder.path("before.json");
  }
  ScratchFolder folder;
};

double target_hz_of(const Json& result, int midi) {
  for (const Json& note : result["notes"])
    if (note["midi"] == midi) return note["target_hz"];
  return 0;
}

TEST_F(Targets, OfTheFileAreInEveryFigureAndSaidOnce) {
  const Words call = with_file({"measure", folder.path("scale.wav")});
  const Json result = json_of(call);
  EXPECT_NEAR(target_hz_of(result, 81), equal_a5_hz * std::exp2(30.0 / 1200.0), 1e-6);
  EXPECT_NEAR(target_hz_of(result, 79), equal_a5_hz * std::exp2(-208.0 / 1200.0), 1e-6);
  EXPECT_NEAR(target_hz_of(result, 83), equal_a5_hz * std::exp2(200.0 / 1200.0), 1e-6);
  const std::string said = "The instrument file wants G5 8 cents flat and A5 30 cents sharp.";
  EXPECT_TRUE(has(unbroken(run_windway(call).out), said)) << run_windway(call).out;
  const ProgramRun batch = run_windway({"batch", folder.path("scale.wav"), "--instrument", folder.path("meant.toml")});
  EXPECT_TRUE(has(unbroken(batch.out), said)) << batch.out;
}

TEST_F(Targets, HoldWhereASavedResultIsUsedAgain) {
  const auto off_after = [&](const std::string& earlier, const Words& more) {
    Words call{"check", folder.path("one.wav"), "--after", earlier};
    call.insert(call.end(), more.begin(), more.end());
    return json_of(call)["off_cents"].get<double>();
  };
  const std::string before = saved();
  const double of_take = off_after(folder.path("scale.wav"), with_file({}));
  EXPECT_NEAR(off_after(before, {}), of_take, 0.05);  // 30 cents, were the target lost
  EXPECT_EQ(run_windway({"card", before}).out, run_windway(with_file({"card", folder.path("scale.wav")})).out);
  EXPECT_EQ(run_windway({"measure", before}).out, run_windway(with_file({"measure", folder.path("scale.wav")})).out);
}

TEST_F(Targets, OfASavedResultAreThoseOfTheFileThatIsCalled) {
  const std::string before = saved(), copy = folder.path("copy.json");
  write_file(copy, read_file(before));
  std::string moved = meant;
  moved.replace(moved.find("target_cents = 30"), 17, "target_cents = -30");
  write_file(folder.path("moved.toml"), moved);
  const auto compared = [&](const std::string& file) {
    return json_of({"compare", before, copy, "--instrument", folder.path(file)});
  };
  const auto before_cents = [](const Json& comparison) {
    for (const Json& note : comparison["notes"])
      if (note["midi"] == 81) return note["before_cents"].get<double>();
    return 0.0;
  };
  EXPECT_NEAR(before_cents(compared("moved.toml")) - before_cents(compared("meant.toml")), 60.0, 1e-3);
}

TEST_F(Targets, AreWrittenIntoABegunFile) {
  const std::string path = folder.path("again.toml");
  ASSERT_EQ(run_windway({"instruments", "write", path, "--from", saved()}).exit_status, 0);
  const std::string text = read_file(path);
  EXPECT_TRUE(has(text, "target_cents = -8")) << text;
  EXPECT_TRUE(has(text, "target_cents = 30")) << text;
}

/// The bench's whistle with the hole of A5 and A6 2 mm too far from the window, in this file.
void write_flat_a_take(const std::string& folder) {
  const synthesis::BenchPlan plan{.instruments = 1, .note_sd_cents = 0.5, .hole_error_mm = 2.0, .faults = 0};
  synthesis::write_bench_takes(synthesis::production_takes(synthesis::draw_bench(plan), plan), folder);
}

TEST_F(Targets, AndWorkForOneFailingInstrumentIsSaidByBatchAndSummaryAlike) {
  write_flat_a_take(folder.path());
  const std::string results = folder.path("r.jsonl");
  const Words call{"batch",       folder.path("HW-1001_final_1.flac"),
                   "--kind",      "whistle",
                   "--lowest",    "D5",
                   "--head-out",  "5",
                   "--tolerance", "8",
                   "--results",   results};
  const ProgramRun batch = run_windway(call);
  EXPECT_EQ(batch.exit_status, 1) << batch.err;
  const std::string text = unbroken(batch.out);
  EXPECT_TRUE(has(text, "enlarge the hole that opens for A5")) << batch.out;
  EXPECT_TRUE(has(text, "warranties")) << batch.out;
  EXPECT_EQ(run_windway({"summary", results}).out, batch.out);
  const Json work = Json::parse(read_file(results))["verdict"]["work"];
  ASSERT_EQ(work.size(), 1U);
  EXPECT_EQ(work[0]["midi"], 81);
  EXPECT_NEAR(work[0]["towards_window_mm"].get<double>(), 2.0, work[0]["towards_window_u95_mm"].get<double>());
}

}  // namespace
}  // namespace windway::cli_tests
