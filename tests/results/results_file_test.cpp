// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/results_file.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <vector>

#include "error.hpp"
#include "results/read_lines.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

const std::string first = R"({"schema":"windway.measurement.v1","a":1})";
const std::string second = R"({"schema":"windway.measurement.v1","b":22})";

class AResultsFile : public testing::Test {
 protected:
  std::string path() const { return folder_.path_of("bench.jsonl"); }
  /// Its lines as they are read back, each by its place too.
  std::vector<std::string> lines_in(const ResultsFile& file) const {
    std::vector<std::string> lines;
    file.read_through([&](std::string_view line, LinePlace place) {
      lines.emplace_back(line);
      EXPECT_EQ(file.line_at(place), lines.back() + "\n");
    });
    return lines;
  }
  void expect_refused(bool goes_on, ErrorKind kind) const {
    try {
      const ResultsFile file(path(), goes_on);
      FAIL() << "was opened";
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), kind) << error.what();
    }
  }

 private:
  test::TemporaryFolder folder_;
};

using Lines = std::vector<std::string>;

TEST_F(AResultsFile, GivesBackTheLinesThatWereAdded) {
  {
    ResultsFile file(path(), false);
    file.append(first + "\n");
    file.append(second + "\n");
    file.flush();
    EXPECT_EQ(lines_in(file), (Lines{first, second}));
  }
  EXPECT_EQ(lines_in(ResultsFile(path(), true)), (Lines{first, second}));
}

TEST_F(AResultsFile, ThatHoldsResultsIsNotBegunAnew) {
  test::write_bytes(path(), first + "\n");
  expect_refused(false, ErrorKind::usage);
  EXPECT_EQ(test::bytes_of(path()), first + "\n");
}

TEST_F(AResultsFile, LosesThePartOfALineThatAKilledRunHasLeft) {
  test::write_bytes(path(), first + "\n" + second.substr(0, 9));
  ResultsFile file(path(), true);
  EXPECT_EQ(test::bytes_of(path()), first + "\n");
  file.append(second + "\n");
  EXPECT_EQ(lines_in(file), (Lines{first, second}));
}

TEST_F(AResultsFile, ThatEndsWithSomethingElseIsLeftAsItIs) {
  test::write_bytes(path(), "a letter, without a line feed at its end");
  expect_refused(true, ErrorKind::usage);
  EXPECT_EQ(test::bytes_of(path()), "a letter, without a line feed at its end");
}

TEST_F(AResultsFile, IsWrittenByOneRunAtATime) {
  const ResultsFile file(path(), false);
  expect_refused(true, ErrorKind::output);
}

TEST_F(AResultsFile, PutsOtherLinesInPlaceOfAllAndGoesOn) {
  ResultsFile file(path(), false);
  file.append(first + "\n");
  file.append(second + "\n");
  const LinePlace of_second{first.size() + 1, second.size() + 1};
  file.replace_with(1, [&](std::size_t) { return file.line_at(of_second); });
  EXPECT_EQ(test::bytes_of(path()), second + "\n");
  file.append(first + "\n");
  EXPECT_EQ(lines_in(file), (Lines{second, first}));
  expect_refused(true, ErrorKind::output);  // the new file is locked as the old one was
}

TEST_F(AResultsFile, StaysWholeWhereALineThatIsToReplaceItFails) {
  ResultsFile file(path(), false);
  file.append(first + "\n");
  EXPECT_THROW(file.replace_with(1, [](std::size_t) -> std::string { throw Error(ErrorKind::output, "no"); }), Error);
  EXPECT_EQ(lines_in(file), (Lines{first}));
}

TEST(ReadLines, GivesWholeLinesHoweverLongAndTheRestBehindThem) {
  const test::TemporaryFolder folder;
  const std::string long_line(700'000, 'x');  // longer than two blocks
  test::write_bytes(folder.path_of("lines"), "\n" + long_line + "\nshort\npart");
  const int descriptor = open(folder.path_of("lines").c_str(), O_RDONLY);
  std::vector<std::string> lines;
  EXPECT_EQ(read_lines(descriptor, [&](std::string_view line) { lines.emplace_back(line); }), "part");
  close(descriptor);
  EXPECT_EQ(lines, (Lines{"", long_line, "short"}));
}

TEST(ReadLines, ThrowsWhereNothingCanBeRead) {
  EXPECT_THROW(read_lines(-1, [](std::string_view) {}), std::system_error);
}

}  // namespace
}  // namespace windway
