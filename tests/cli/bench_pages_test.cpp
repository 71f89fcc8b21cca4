// SPDX-License-Identifier: GPL-3.0-or-later
// The page and the pictures of a bench, and the page of a history, from the program itself.
#include <gtest/gtest.h>

#include <pugixml.hpp>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

std::string heading_of(const std::string& page) {
  pugi::xml_document document;
  EXPECT_TRUE(document.load_string(page.c_str())) << page.substr(0, 200);
  return document.select_node("//h1").node().text().get();
}

TEST(BenchPages, SaysWhatTheTextSaysAndTheCallThatMadeIt) {
  const ProgramRun run = run_windway(whole_bench_call({"--format", "html"}));
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(heading_of(run.out), "6 of 12 instruments pass, 4 fail, 2 were not measured");
  EXPECT_TRUE(has(run.out, "--format html"));
  EXPECT_FALSE(has(run.out, "<script"));
}

TEST(BenchPages, SummaryAndHistoryMakeItFromResults) {
  const ScratchFolder folder;
  const std::string results = folder.path("bench.jsonl");
  const ProgramRun batch = run_windway(whole_bench_call({"--results", results, "--format", "html"}));
  const ProgramRun summary =
      run_windway({"summary", results, "--format", "html", "--output", folder.path("bench.html")});
  EXPECT_EQ(summary.exit_status, batch.exit_status) << summary.err;
  EXPECT_EQ(summary.out, "");
  EXPECT_EQ(heading_of(read_file(folder.path("bench.html"))), heading_of(batch.out));
  for (const char* figure : {"notes", "production", "shared"}) {
    const ProgramRun picture = run_windway({"summary", results, "--format", "svg", "--figure", figure});
    EXPECT_TRUE(picture.out.starts_with("<svg ")) << figure << ": " << picture.err;
  }
  const ProgramRun history = run_windway({"history", "HW-1001", "--results", results, "--format", "html"});
  EXPECT_EQ(history.exit_status, 0) << history.err;
  EXPECT_EQ(heading_of(history.out), "HW-1001");
}

TEST(BenchPages, SaysThatNothingWasMeasuredInsteadOfDrawing) {
  const ScratchFolder folder;
  const std::string results = folder.path("none.jsonl");
  write_file(results, "");
  for (const char* figure : {"notes", "production", "shared"}) {
    const ProgramRun run = run_windway({"summary", results, "--format", "svg", "--figure", figure});
    EXPECT_EQ(run.out, "") << figure;
    EXPECT_TRUE(has(run.err, "cannot be drawn")) << figure << ": " << run.err;
  }
}

TEST(BenchPages, ShowsVerdictsMadeAnewAndGroupsOfTheCall) {
  const ScratchFolder folder;
  const std::string results = folder.path("bench.jsonl");
  run_windway(whole_bench_call({"--results", results}));
  const std::vector<std::string> call{"summary", results, "--tolerance", "200", "--group-by", "lot"};
  auto as_page = call;
  as_page.insert(as_page.end(), {"--format", "html"});
  const std::string page = run_windway(as_page).out, text = run_windway(call).out;
  EXPECT_TRUE(text.starts_with(heading_of(page))) << text.substr(0, 200);
  EXPECT_NE(heading_of(page), "6 of 12 instruments pass, 4 fail, 2 were not measured");
  EXPECT_TRUE(has(page, "tolerance 200"));
  EXPECT_FALSE(has(page, "Work: "));
  EXPECT_TRUE(has(page, "id=\"groups\""));
}

TEST(BenchPages, RefusesAFigureOfAnotherFormat) {
  const ProgramRun run = run_windway(whole_bench_call({"--figure", "notes"}));
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_TRUE(has(run.err, "--format svg")) << run.err;
}

}  // namespace
}  // namespace windway::cli_tests
