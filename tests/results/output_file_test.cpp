// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/output_file.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "error.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;

class AnOutputFile : public testing::Test {
 protected:
  std::string path_of(const std::string& name) const { return folder_.path_of(name); }
  std::ptrdiff_t files_there() const {
    const fs::directory_iterator files(fs::path(path_of("x")).parent_path());
    return std::distance(begin(files), end(files));
  }

 private:
  test::TemporaryFolder folder_;
};

TEST_F(AnOutputFile, IsThereOnlyOnceItIsFinished) {
  const std::string path = path_of("report.txt");
  OutputFile file(path);
  EXPECT_FALSE(fs::exists(path));
  ASSERT_EQ(write_all(file.descriptor(), "in "), 0);
  file.finish("pieces\n");
  EXPECT_EQ(test::bytes_of(path), "in pieces\n");
  EXPECT_EQ(files_there(), 1);
}

TEST_F(AnOutputFile, LeavesTheOldContentUntilItIsFinished) {
  const std::string path = path_of("report.txt");
  test::write_bytes(path, "old");
  {
    const OutputFile file(path);
    ASSERT_EQ(write_all(file.descriptor(), "half of"), 0);
  }
  EXPECT_EQ(test::bytes_of(path), "old");
  EXPECT_EQ(files_there(), 1);
}

TEST_F(AnOutputFile, KeepsTheRightsOfTheFileThatItReplaces) {
  const std::string path = path_of("report.txt");
  test::write_bytes(path, "old");
  fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write);
  OutputFile(path).finish("new");
  EXPECT_EQ(fs::status(path).permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(AnOutputFile, KeepsTheRightsOfAFileThatIsRemovedMeanwhile) {
  const std::string path = path_of("report.txt");
  test::write_bytes(path, "old");
  fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write);
  OutputFile file(path);
  fs::remove(path);
  file.finish("new");
  EXPECT_EQ(fs::status(path).permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(AnOutputFile, ReplacesTheFileThatALinkLeadsTo) {
  test::write_bytes(path_of("real.txt"), "old");
  fs::create_symlink("real.txt", path_of("link.txt"));
  OutputFile(path_of("link.txt")).finish("new");
  EXPECT_TRUE(fs::is_symlink(path_of("link.txt")));
  EXPECT_EQ(test::bytes_of(path_of("real.txt")), "new");
}

TEST_F(AnOutputFile, ThatCannotBeWrittenIsSaidAtOnce) {
  EXPECT_THROW(OutputFile(path_of("none/report.txt")), Error);
  EXPECT_THROW(OutputFile(fs::path(path_of("x")).parent_path().string()), Error);
}

TEST_F(AnOutputFile, OnAFullDiskIsAnErrorOfTheOutput) {
  OutputFile full("/dev/full");
  try {
    full.finish("content");
    FAIL() << "the device takes nothing";
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::output);
    EXPECT_STREQ(error.what(), "cannot write /dev/full: No space left on device");
  }
}

TEST_F(AnOutputFile, AllUnfinishedOnesGoWhenTheProgramIsInterrupted) {
  test::write_bytes(path_of("kept.txt"), "old");
  const OutputFile report(path_of("report.txt")), results(path_of("kept.txt"));
  EXPECT_EQ(files_there(), 3);
  remove_unfinished_outputs();
  EXPECT_EQ(files_there(), 1);
  EXPECT_EQ(test::bytes_of(path_of("kept.txt")), "old");
}

TEST_F(AnOutputFile, ThatIsFinishedStaysWhenTheProgramIsInterrupted) {
  OutputFile file(path_of("report.txt"));
  file.finish("whole");
  remove_unfinished_outputs();
  EXPECT_EQ(test::bytes_of(path_of("report.txt")), "whole");
}

}  // namespace
}  // namespace windway
