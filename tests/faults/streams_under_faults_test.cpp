// SPDX-License-Identifier: GPL-3.0-or-later
// What every command does when a standard stream is full, closed or not read.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "faults/written_results.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Descriptors = std::vector<int>;

bool is_closed(const Descriptors& closed, int descriptor) {
  return std::ranges::find(closed, descriptor) != closed.end();
}

/// All results that can go to standard output.
std::vector<WrittenResult> all_that_is_printed() {
  std::vector<WrittenResult> all = printed_answers();
  for (const WrittenResult& result : written_results())
    if (!result.names_its_file()) all.push_back(result);
  return all;
}

const std::vector<Descriptors> all_without_out{{0}, {2}, {0, 2}}, both_without_out{{0, 2}};
const std::vector<Descriptors> all_with_out{{1}, {0, 1}, {1, 2}, {0, 1, 2}}, some_with_out{{1}, {0, 1, 2}};

/// Of each command one result meets every set of closed descriptors.
bool is_one_of_its_command(const WrittenResult& result) {
  return result.name.ends_with("text") || result.ending.empty();
}

std::string trace(const WrittenResult& result, const Descriptors& closed) {
  std::string text = result.name + ", closed:";
  for (const int descriptor : closed) text += " " + std::to_string(descriptor);
  return text;
}

TEST(FaultyStreams, ThatAreFullAreSaidToBe) {
  for (const WrittenResult& result : all_that_is_printed()) {
    SCOPED_TRACE(result.name);
    const ProgramRun run = run_windway(result.call, {.out_path = "/dev/full"});
    expect_one_complaint(run, 4, "cannot write the result to standard output", "No space left on device");
  }
}

TEST(FaultyStreams, ThatNobodyReadsEndTheWorkQuietly) {
  for (const WrittenResult& result : all_that_is_printed()) {
    SCOPED_TRACE(result.name);
    const ProgramRun run = run_windway(result.call, {.out_reader_has_gone = true});
    EXPECT_EQ(run.exit_status, result.exit_status) << run.err;
    EXPECT_TRUE(complaints(run).empty()) << run.err;
  }
}

TEST(FaultyStreams, ThatAreClosedChangeNoResultThatIsPrinted) {
  for (const WrittenResult& result : all_that_is_printed()) {
    const ProgramRun undisturbed = run_windway(result.call);
    ASSERT_EQ(undisturbed.exit_status, result.exit_status) << result.name << undisturbed.err;
    for (const Descriptors& closed : is_one_of_its_command(result) ? all_without_out : both_without_out) {
      SCOPED_TRACE(trace(result, closed));
      const ProgramRun run = run_windway(result.call, {.closed = closed});
      EXPECT_EQ(run.exit_status, result.exit_status);
      EXPECT_TRUE(run.out == undisturbed.out) << run.out.substr(0, 200);
      EXPECT_EQ(run.err, is_closed(closed, 2) ? "" : undisturbed.err);
    }
  }
}

TEST(FaultyStreams, ThatAreClosedForTheResultAreAnError) {
  for (const WrittenResult& result : all_that_is_printed()) {
    for (const Descriptors& closed : is_one_of_its_command(result) ? all_with_out : some_with_out) {
      SCOPED_TRACE(trace(result, closed));
      const ProgramRun run = run_windway(result.call, {.closed = closed});
      EXPECT_EQ(run.exit_status, 4);
      EXPECT_EQ(run.out, "");
      if (is_closed(closed, 2)) {
        EXPECT_EQ(run.err, "");
      } else {
        expect_one_complaint(run, 4, "cannot write the result to standard output");
      }
    }
  }
}

TEST(FaultyStreams, ThatAreAllClosedChangeNoFile) {
  for (const WrittenResult& result : written_results()) {
    SCOPED_TRACE(result.name);
    const ScratchFolder folder;
    const std::string place = folder.path("r" + result.ending);
    const ProgramRun undisturbed = run_windway(result.call_to(place));
    ASSERT_EQ(undisturbed.exit_status, result.exit_status) << undisturbed.err;
    const std::string content = read_file(place);
    std::filesystem::remove(place);
    const ProgramRun run = run_windway(result.call_to(place), {.closed = {0, 1, 2}});
    // The file of a call that also prints something is whole all the same.
    EXPECT_EQ(run.exit_status, undisturbed.out.empty() ? result.exit_status : 4);
    EXPECT_TRUE(read_file(place) == content);
    EXPECT_EQ(folder.contents().size(), 1U);
  }
}

TEST(FaultyStreams, AFullDeviceIsNamed) {
  for (const WrittenResult& result : written_results()) {
    if (result.names_its_file()) continue;  // /dev/full has no ending
    SCOPED_TRACE(result.name);
    const ProgramRun run = run_windway(result.call_to("/dev/full"));
    expect_one_complaint(run, 4, "cannot write /dev/full", "No space left on device");
    EXPECT_EQ(run.out, "");
  }
}

TEST(FaultyStreams, APlaceThatIsNoneIsSaidBeforeTheWork) {
  const ScratchFolder folder;
  for (const WrittenResult& result : written_results()) {
    SCOPED_TRACE(result.name);
    const std::string nowhere = folder.path("none/r" + result.ending);
    expect_one_complaint(run_windway(result.call_to(nowhere)), 4, "cannot write " + nowhere, "No such file");
    const std::string a_folder = folder.path("folder" + result.ending);
    std::filesystem::create_directories(a_folder);
    expect_one_complaint(run_windway(result.call_to(a_folder)), 4, "cannot write " + a_folder, "Is a directory");
  }
}

}  // namespace
}  // namespace windway::cli_tests
