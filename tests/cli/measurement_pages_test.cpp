// SPDX-License-Identifier: GPL-3.0-or-later
// Pages and figures of single takes, and the curves of the JSON, from the program itself.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/sample_takes.hpp"
#include "cli/takes.hpp"
#include "report/page/parsed_page.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using report_tests::ParsedPage;
using Words = std::vector<std::string>;

Words call_of(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

double percent_of(const pugi::xml_node& node, const char* name) { return std::stod(node.attribute(name).value()); }

/// The places of the wedges of the first figure against those of the JSON, on the axis that two wedges' ends fix.
void expect_drawn_as_said(const ParsedPage& page, const Json& figures, const std::string& name) {
  const auto wedges = page.all("//table[@aria-labelledby='head']/tbody//svg[path[contains(@class, 'wedge')]]");
  ASSERT_EQ(wedges.size(), figures.size()) << name;
  const auto soft = [&](std::size_t note) { return percent_of(wedges[note].node(), "x"); };
  const auto hard = [&](std::size_t note) { return soft(note) + percent_of(wedges[note].node(), "width"); };
  if (figures[0]["true_soft_mm"].is_null()) {  // of a fixed head they are cents, as long as the reach
    const auto reach_cents = [&](std::size_t note) {
      return figures[note]["reach_soft_cents"].get<double>() + figures[note]["reach_hard_cents"].get<double>();
    };
    for (std::size_t note = 0; note < figures.size(); ++note)
      EXPECT_NEAR((hard(note) - soft(note)) / (hard(0) - soft(0)), reach_cents(note) / reach_cents(0), 0.01) << name;
    return;
  }
  const double soft_mm = figures[0]["true_soft_mm"], hard_mm = figures[0]["true_hard_mm"];
  const double per_mm = (hard(0) - soft(0)) / (hard_mm - soft_mm);
  for (std::size_t note = 0; note < figures.size(); ++note) {
    const double from_mm = figures[note]["true_soft_mm"], to_mm = figures[note]["true_hard_mm"];
    EXPECT_NEAR(soft(note), soft(0) + per_mm * (from_mm - soft_mm), 0.1) << name;
    EXPECT_NEAR(hard(note), soft(0) + per_mm * (to_mm - soft_mm), 0.1) << name;
  }
}

TEST(MeasurementPages, OfAllSamplesAreWellFormedSmallAndDrawWhatTheJsonSays) {
  constexpr std::size_t most_bytes = 150000;
  for (const SampleTake& sample : samples()) {
    const ProgramRun html = run_windway(call_of(sample, {"--format", "html"}));
    ASSERT_EQ(html.exit_status, 0) << html.err;
    const ParsedPage page(html.out);
    EXPECT_TRUE(page.faults().empty()) << sample.name << ": " << page.faults().front();
    EXPECT_LT(html.out.size(), most_bytes) << sample.name;
    const Json json = Json::parse(run_windway(call_of(sample, {"--format", "json"})).out);
    expect_drawn_as_said(page, json["figures"], sample.name);
    EXPECT_EQ(page.count("//line[@class='held'][not(ancestor::p)]"), json["holds"].size()) << sample.name;
  }
}

/// Phone, desktop, dark, A4; a page of each kind.
TEST(MeasurementPages, AreReadableOnAPhoneADesktopInTheDarkAndOnPaper) {
  const ScratchFolder folder;
  Words look{std::string(WINDWAY_TESTS_DIR) + "/cli/look_at_pages"};
  if (const char* axe = std::getenv("WINDWAY_AXE")) look = call_of(look, {"--axe", axe});
  const auto make = [&](const std::string& name, const Words& call) {
    const std::string page = folder.path(name + ".html");
    const ProgramRun run = run_windway(call_of(call, {"--format", "html", "--output", page}));
    ASSERT_EQ(run.exit_status, 0) << run.err;
    look.push_back(page);
  };
  for (const char* name : {"hw-0412-steps", "hw-0388-recorder", "hw-0431-plain"})
    for (const SampleTake& sample : samples())
      if (sample.name == name) make(name, call_of(sample, {}));
  const std::string before = folder.path("before.json");
  run_windway(call_of(samples()[0], {"--format", "json", "--output", before}));
  const std::string after = std::string(WINDWAY_SAMPLES_DIR) + "/takes/hw-0412-drawn-out.flac";
  make("check", {"check", after, "--after", before});
  make("compare", {"compare", before, after, "--drawn-out", "1.3"});
  make("card", {"card", before});
  make("history", {"history", before, after, "--head-out", "1.3", "--kind", "whistle", "--lowest", "D5"});
  make("playing", {"playing", after, "--kind", "whistle", "--lowest", "D5", "--head-out", "1.3"});
  const ProgramRun looked = run_program(look);
  constexpr int no_browser = 77;
  if (looked.exit_status == no_browser && std::getenv("WINDWAY_REQUIRE_EXTERNAL") == nullptr)
    GTEST_SKIP() << looked.out;
  EXPECT_EQ(looked.exit_status, 0) << looked.out << looked.err;
}

TEST(MeasurementPages, OfASavedResultHaveAllButTheLoudness) {
  const ScratchFolder folder;
  const std::string saved = folder.path("saved.json"), with_curves = folder.path("curves.json");
  run_windway(call_of(samples()[0], {"--format", "json", "--output", saved}));
  run_windway(call_of(samples()[0], {"--format", "json", "--curves", "--output", with_curves}));
  const ParsedPage page(run_windway({"measure", saved, "--format", "html"}).out);
  EXPECT_EQ(page.count("//h2[@id='take']"), 1U);
  EXPECT_EQ(page.count("//path[@class='loud']"), 0U);
  EXPECT_GT(ParsedPage(run_windway({"measure", with_curves, "--format", "html"}).out).count("//path[@class='loud']"),
            0U);
}

TEST(MeasurementPages, OfOneTakeAreTheSameBytesEachTime) {
  const Words call = call_of(samples()[1], {"--format", "html"});
  EXPECT_EQ(run_windway(call).out, run_windway(call).out);
}

TEST(MeasurementPages, KeepAHostileFileNameAsText) {
  const ScratchFolder folder;
  const std::string take = folder.path("<script>alert(1)<b>.wav");
  write_scale_take(take);
  const ProgramRun run = run_windway(call_of({"measure", take, "--format", "html"}, whistle_in_d));
  const ParsedPage page(run.out);
  EXPECT_TRUE(page.faults().empty());
  EXPECT_FALSE(has(run.out, "<script")) << "the name got in";
  EXPECT_TRUE(has(page.words("//dl"), "<script>alert(1)<b>.wav"));
}

TEST(MeasurementFigures, AreDrawnAloneByName) {
  for (const char* figure : {"head", "breath", "holes"}) {
    const ProgramRun run = run_windway(call_of(samples()[0], {"--format", "svg", "--figure", figure}));
    EXPECT_EQ(run.exit_status, 0) << run.err;
    EXPECT_TRUE(ParsedPage(run.out).faults().empty()) << figure;
  }
  EXPECT_EQ(run_windway(call_of(samples()[0], {"--format", "svg", "--figure", "tail"})).exit_status, 2);
}

TEST(MeasurementFigures, OptionsThatDoNotGoWithTheFormatAreRefused) {
  for (const Words& mistaken : {Words{"--figure", "head"}, Words{"--plot", "--format", "json"}, Words{"--curves"}}) {
    const ProgramRun run = run_windway(call_of(samples()[0], mistaken));
    EXPECT_EQ(run.exit_status, 2) << mistaken[0];
    EXPECT_TRUE(has(run.err, mistaken[0])) << run.err;
  }
}

TEST(MeasurementFigures, StandInTheTextWhereAskedFor) {
  const ProgramRun run = run_windway(call_of(samples()[0], {"--plot"}));
  EXPECT_TRUE(has(run.out, "! best")) << run.out;
  EXPECT_LT(run.out.find("  note  then blow"), run.out.find("! best"));
  EXPECT_FALSE(has(run_windway(call_of(samples()[0], {})).out, "! best"));
}

TEST(MeasurementCurves, AreInTheJsonOnlyWhereAskedFor) {
  const Json plain = Json::parse(run_windway(call_of(samples()[0], {"--format", "json"})).out);
  EXPECT_FALSE(plain.contains("loudness"));
  const Json json = Json::parse(run_windway(call_of(samples()[0], {"--format", "json", "--curves"})).out);
  ASSERT_EQ(json["loudness"].size(), 1U);
  EXPECT_EQ(json["hold_curves"].size(), json["holds"].size());
  const Json& loudness = json["loudness"][0];
  EXPECT_NEAR(loudness["hop_s"].get<double>(), 0.05, 1e-9);
  EXPECT_NEAR(static_cast<double>(loudness["level_db"].size()) * 0.05, json["takes"][0]["duration_s"].get<double>(),
              0.2);
  for (std::size_t hold = 0; hold < json["holds"].size(); ++hold) {
    const Json& curve = json["hold_curves"][hold];
    double sum = 0;
    for (const Json& cents : curve["deviation_cents"]) sum += cents.get<double>();
    const double mean = sum / static_cast<double>(curve["deviation_cents"].size());
    EXPECT_NEAR(mean, json["holds"][hold]["deviation_cents"].get<double>(), 1.0) << hold;
  }
}

}  // namespace
}  // namespace windway::cli_tests
