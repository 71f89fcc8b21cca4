// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/saved_lines.hpp"

#include <gtest/gtest.h>

#include "error.hpp"
#include "report/bench/made_up_line.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

using report_tests::judged_take;
using report_tests::line_of;

class SavedLines : public testing::Test {
 protected:
  std::string file_of(const std::string& name, const std::string& bytes) const {
    test::write_bytes(folder_.path_of(name), bytes);
    return folder_.path_of(name);
  }
  std::size_t read(const std::vector<std::string>& files) {
    return read_saved_lines(
        files, [this](const BenchEntry& entry, std::string_view) { serials.push_back(entry.subject.serial.value()); },
        [this](const std::string& warning) { warnings.push_back(warning); });
  }

  std::vector<std::string> serials, warnings;

 private:
  test::TemporaryFolder folder_;
};

std::string line_of_serial(const std::string& serial) {
  JudgedTake take = judged_take();
  take.subject.serial = serial;
  return line_of(take) + "\n";
}

TEST_F(SavedLines, OfSeveralFilesComeInOrder) {
  const std::string b = file_of("b.jsonl", line_of_serial("B1") + line_of_serial("B2"));
  const std::string a = file_of("a.jsonl", line_of_serial("A"));
  EXPECT_EQ(read({b, a}), 0U);
  EXPECT_EQ(serials, (std::vector<std::string>{"B1", "B2", "A"}));
  EXPECT_TRUE(warnings.empty());
}

TEST_F(SavedLines, ThatAreNoneAreCountedAndNamedByFileAndLine) {
  const std::string path = file_of("x.jsonl", "{}\n" + line_of_serial("A") + R"({"schema":"windway.mea)");
  EXPECT_EQ(read({path}), 2U);
  EXPECT_EQ(serials, std::vector<std::string>{"A"});
  ASSERT_EQ(warnings.size(), 2U);
  EXPECT_EQ(warnings[0], path + ", line 1: is no result of windway batch; it is left out");
  EXPECT_EQ(warnings[1].rfind(path + ", line 3: is not whole", 0), 0U) << warnings[1];
}

TEST_F(SavedLines, WarnOfTheFirstFiveAndCountTheRest) {
  EXPECT_EQ(read({file_of("x.jsonl", "\n\n\n\n\n\n\n")}), 7U);
  ASSERT_EQ(warnings.size(), 6U);
  EXPECT_EQ(warnings.back(), "and 2 such lines more");
}

TEST_F(SavedLines, OfAFileThatIsNotThereAreAnErrorOfTheRecording) {
  try {
    read({"/nowhere/x.jsonl"});
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    EXPECT_STREQ(error.what(), "cannot read /nowhere/x.jsonl: No such file or directory");
  }
}

}  // namespace
}  // namespace windway
